package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"

	"primaprova/solver/ortools"
)

// fetch gives the path of the wheel, fetched if need be. Pip runs with the hash required,
// and the file is checked here again: pip keeps its own ideas of what a cached file is.
func fetch(ctx context.Context, pin ortools.Pin, python string) (string, error) {
	dir := filepath.Join(".deps", "wheels")
	wheel := filepath.Join(dir, pin.Wheel)
	if checkWheel(wheel, pin) == nil {
		return wheel, nil
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return "", err
	}
	want := filepath.Join(dir, pin.Folder()+".txt")
	line := fmt.Sprintf("ortools==%s --hash=sha256:%s\n", ortools.Release, pin.SHA256)
	if err := os.WriteFile(want, []byte(line), 0o644); err != nil {
		return "", err
	}
	os.Remove(wheel) // pip would keep a spoilt one
	cmd := exec.CommandContext(ctx, python, "-m", "pip", "download", "--quiet", "--no-deps", "--only-binary=:all:",
		"--python-version", "311", "--implementation", "cp", "--abi", "cp311", "--platform", pin.PipPlatform,
		"--require-hashes", "--requirement", want, "--dest", dir)
	cmd.Stdout, cmd.Stderr = os.Stderr, os.Stderr
	if err := cmd.Run(); err != nil {
		return "", fmt.Errorf("fetching %s with %s -m pip: %w", pin.Wheel, python, err)
	}
	if err := checkWheel(wheel, pin); err != nil {
		return "", fmt.Errorf("pip brought something else: %w", err)
	}
	return wheel, nil
}

func checkWheel(name string, pin ortools.Pin) error {
	f, err := os.Open(name)
	if err != nil {
		return err
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return err
	}
	if got := hex.EncodeToString(h.Sum(nil)); got != pin.SHA256 {
		return fmt.Errorf("%s: sha256 is %s, want %s", name, got, pin.SHA256)
	}
	return nil
}

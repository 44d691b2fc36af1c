//go:build elsewhere

package main

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

// unpacked is the folder into which the engines are unpacked under Wine.
func unpacked(t *testing.T) string {
	t.Helper()
	list, err := filepath.Glob(filepath.Join(os.Getenv("WINEPREFIX"), "drive_c", "users", "*", "AppData", "Local", "primaprova"))
	if err != nil || len(list) != 1 {
		t.Fatalf("%q, %v: not one folder", list, err)
	}
	return list[0]
}

func library(t *testing.T) string {
	t.Helper()
	list, err := filepath.Glob(filepath.Join(unpacked(t), "*", "ortools", ".libs", "highs.dll"))
	if err != nil || len(list) != 1 {
		t.Fatalf("%q, %v: not one library", list, err)
	}
	return list[0]
}

// Engines that were tampered with are unpacked anew, before they are loaded; two who find none
// unpack side by side.
func TestEnginesUnderWine(t *testing.T) {
	dir := at(t, "../../testdata/seasons/small.yaml")
	plan := func(env ...string) (stderr string, code int) {
		b := elsewhere(t)
		b.env = env
		_, stderr, code = b.run(t, dir, "plan")
		return stderr, code
	}
	if stderr, code := plan(); code != 0 {
		t.Fatalf("%d: %s", code, stderr)
	}
	name := library(t)
	good, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	spoilt := bytes.Clone(good)
	spoilt[len(spoilt)/2] ^= 1
	if err := os.WriteFile(name, spoilt, 0o644); err != nil {
		t.Fatal(err)
	}
	if stderr, code := plan(); code != 0 {
		t.Errorf("tampered with: %d: %s", code, stderr)
	}
	if now, err := os.ReadFile(name); err != nil || !bytes.Equal(now, good) {
		t.Errorf("tampered with, and not unpacked anew (%v)", err)
	}

	if err := os.RemoveAll(unpacked(t)); err != nil {
		t.Fatal(err)
	}
	var both sync.WaitGroup
	for _, season := range []string{"one", "two"} {
		data, err := os.ReadFile(filepath.Join(dir, "season.yaml"))
		if err == nil {
			err = os.WriteFile(filepath.Join(dir, season+".yaml"), data, 0o644)
		}
		if err != nil {
			t.Fatal(err)
		}
		both.Go(func() {
			if _, stderr, code := elsewhere(t).run(t, dir, "plan", season+".yaml"); code != 0 {
				t.Errorf("%s: %d: %s", season, code, stderr)
			}
		})
	}
	both.Wait()
	if now, err := os.ReadFile(library(t)); err != nil || !bytes.Equal(now, good) {
		t.Errorf("unpacked twice at once, and not whole (%v)", err)
	}

	for what, c := range map[string]struct{ env, want string }{
		"a folder without engines": {"PRIMAPROVA_ENGINES=" + t.TempDir(), "no HiGHS library (highs.dll of OR-Tools "},
		"no C++ run-time library":  {"WINEDLLOVERRIDES=msvcp140=", "msvcp140.dll, which it needs: "},
	} {
		stderr, code := plan(c.env)
		if code != exitStopped || !strings.Contains(stderr, c.want) || strings.Count(stderr, "\n") > 2 {
			t.Errorf("%s: %d: %s; want exit code %d and %q in one line", what, code, stderr, exitStopped, c.want)
		}
	}
}

// A folder that others may write to holds no engines of ours.
func TestOpenFolderUnderWine(t *testing.T) {
	dir := at(t, "../../testdata/seasons/small.yaml")
	if err := os.Chmod(unpacked(t), 0o777); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod(unpacked(t), 0o700) //nolint:errcheck // the next plan would say so
	_, stderr, code := elsewhere(t).run(t, dir, "plan")
	if code != exitStopped || !strings.Contains(stderr, "can write to") || !strings.Contains(stderr, "icacls") {
		t.Errorf("%d: %s; want it refused, with a command that closes it", code, stderr)
	}
}

// Opened by a double click, the window says what to type, and stays until Return.
func TestDoubleClickUnderWine(t *testing.T) {
	dir := t.TempDir()
	launcher := filepath.Join(dir, "explorer.exe")
	c := exec.CommandContext(t.Context(), "go", "build", "-o", launcher, "../../testdata/wine/launch")
	c.Env = append(os.Environ(), "GOOS=windows", "GOARCH=amd64")
	if out, err := c.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	b := elsewhere(t)
	c = exec.CommandContext(t.Context(), b.words[0], launcher, b.words[len(b.words)-1])
	in, err := c.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	c.Stdout, c.Stderr, c.WaitDelay = &out, &out, time.Second
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	gone := make(chan struct{})
	go func() { _ = c.Wait(); close(gone) }()
	select {
	case <-gone:
		t.Errorf("it did not stay:\n%s", &out)
	case <-time.After(5 * time.Second):
	}
	if _, err := in.Write([]byte("\n")); err != nil {
		t.Error(err)
	}
	<-gone
	if !strings.Contains(out.String(), opened) {
		t.Errorf("it said:\n%s", &out)
	}
}

// Ctrl-C at a console keeps the best plan so far.
func TestCtrlCUnderWine(t *testing.T) {
	dir := at(t, "../../testdata/seasons/demo/season.yaml")
	b := elsewhere(t)
	// exec: of a shell in between, the exit code would be that of the signal.
	c := exec.CommandContext(t.Context(), "script", "-qec", "exec "+strings.Join(b.words, " ")+" plan", "/dev/null")
	c.Dir = dir
	c.Env = append(os.Environ(), "PRIMAPROVA_TODAY=2027-01-11", "PRIMAPROVA_ENGINES=", "TERM=xterm", "LC_ALL=C.UTF-8")
	keys, err := c.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	var said bytes.Buffer
	pressed := false
	for b := make([]byte, 4096); err == nil; {
		var n int
		n, err = out.Read(b)
		said.Write(b[:n])
		if !pressed && bytes.Contains(said.Bytes(), []byte("%; ")) { // the search has begun
			pressed = true
			if _, err := keys.Write([]byte{3}); err != nil {
				t.Error(err)
			}
		}
	}
	err = c.Wait()
	var exit *exec.ExitError
	if err != nil && (!errors.As(err, &exit) || exit.ExitCode() != exitLeftOut) || !strings.Contains(said.String(), "cut short") {
		t.Errorf("%v; want a plan that was cut short\n%s", err, &said)
	}
	auditedIn(t, dir)
}

package main

import (
	"bytes"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"primaprova/solver/ortools"
)

// Without CP-SAT a season with hours is planned all the same, and it is said
// what is missing.
func TestPlannedWithoutTheDayEngine(t *testing.T) {
	whole, err := filepath.Abs(filepath.Join("..", "..", ".deps", "engines", "ortools", ".libs"))
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	name := ortools.HiGHS.FileName(runtime.GOOS)
	if err := os.Symlink(filepath.Join(whole, name), filepath.Join(folder, name)); err != nil {
		t.Fatal(err)
	}
	season := filepath.Join(folder, "season.yaml")
	text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "seasons", "small.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(season, append(text, "\nhours: {every day: [09:30-12:30]}\n"...), 0o644); err != nil {
		t.Fatal(err)
	}
	t.Setenv("PRIMAPROVA_ENGINES", folder)
	t.Setenv("PRIMAPROVA_TODAY", before)
	t.Setenv("XDG_CONFIG_HOME", folder)
	var stdout, stderr bytes.Buffer
	if code := run([]string{"plan", season}, strings.NewReader(""), &stdout, &stderr); code != 0 {
		t.Fatalf("exit code %d: %s", code, &stderr)
	}
	if !strings.Contains(stderr.String(), "Sessions follow each other in the order of their stages") {
		t.Errorf("nothing is said: %s", &stderr)
	}
	plan, err := os.ReadFile(filepath.Join(folder, "season.plan.json"))
	if err != nil || !bytes.Contains(plan, []byte(`"start":"09:30"`)) || bytes.Contains(plan, []byte("CP-SAT")) {
		t.Errorf("the plan: %v, %.300s", err, plan)
	}
}

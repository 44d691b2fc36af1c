package main

import (
	"bytes"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
)

// Where the tests run as root nothing is forbidden, so this thread gives up
// root's rights over files first.
func TestNoPermission(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "season.yaml")
	if err := os.WriteFile(path, []byte("title: closed\n"), 0); err != nil {
		t.Fatal(err)
	}
	small := smallSeason(t)
	open := filepath.Join(dir, "open.yaml")
	if err := os.WriteFile(open, []byte(small), 0o644); err != nil {
		t.Fatal(err)
	}
	for d := dir; d != os.TempDir() && d != "/"; d = filepath.Dir(d) {
		if err := os.Chmod(d, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	t.Setenv("XDG_CONFIG_HOME", dir)
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	if os.Geteuid() == 0 {
		if err := syscall.Setfsuid(65534); err != nil {
			t.Fatal(err)
		}
		defer syscall.Setfsuid(0)
	}
	for _, command := range []string{"check", "plan", "show", "export --csv -"} {
		var out, errs bytes.Buffer
		args := append(strings.Fields(command), path)
		if code := run(args, strings.NewReader(""), &out, &errs); code != exitInput {
			t.Errorf("%s: exit code %d, not %d", command, code, exitInput)
		}
		want := path + ": may not be read: no permission\n  try: chmod u+r " + path + "\n"
		if errs.String() != want || out.Len() != 0 {
			t.Errorf("%s said %q and %q, not %q", command, out.String(), errs.String(), want)
		}
	}
	// A folder that is not ours to write in is found out before the work begins.
	if err := os.Chmod(dir, 0o555); err != nil && os.Geteuid() != 0 {
		t.Fatal(err)
	}
	defer os.Chmod(dir, 0o755)
	fresh := filepath.Join(dir, "other.yaml")
	for command, file := range map[string]string{"new " + fresh: fresh, "plan " + open: planPath(open)} {
		var out, errs bytes.Buffer
		if code := run(strings.Fields(command), strings.NewReader(""), &out, &errs); code != exitInput {
			t.Errorf("%s: exit code %d, not %d", command, code, exitInput)
		}
		want := file + ": cannot be written: permission denied\n"
		if errs.String() != want || out.Len() != 0 {
			t.Errorf("%s said %q and %q, not %q", command, out.String(), errs.String(), want)
		}
	}
	if names, err := os.ReadDir(dir); err != nil || len(names) != 2 {
		t.Errorf("something was written: %v %v", names, err)
	}
}

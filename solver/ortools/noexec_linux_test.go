package ortools

import (
	"io/fs"
	"os"
	"slices"
	"strings"
	"testing"
)

// TestLoads: what the kernel says of each mount is what its own list of mounts says.
func TestLoads(t *testing.T) {
	b, err := os.ReadFile("/proc/self/mounts")
	if err != nil {
		t.Fatal(err)
	}
	over := map[string]bool{} // the last mount on a folder is the one that counts
	for line := range strings.Lines(string(b)) {
		f := strings.Fields(line)
		over[f[1]] = slices.Contains(strings.Split(f[3], ","), "noexec")
	}
	for folder, noexec := range over {
		if i, err := os.Stat(folder); err != nil || !i.IsDir() || strings.Contains(folder, `\`) {
			continue
		}
		if got := loads(folder) != nil; got != noexec {
			t.Errorf("%s: in the way is %v, the list of mounts says %v", folder, got, noexec)
		}
	}
}

// TestLoadsFrom: a folder that is not there yet is judged by what holds above it.
func TestLoadsFrom(t *testing.T) {
	flags := func(folder string) (int64, error) {
		switch folder {
		case "/":
			return 0, nil
		case "/cache":
			return stNoExec, nil
		case "/locked":
			return 0, fs.ErrPermission
		}
		return 0, fs.ErrNotExist
	}
	for folder, want := range map[string]bool{"/": false, "/cache": true, "/cache/a/b": true, "/a/b": false, "/locked": false} {
		if got := loadsFrom(folder, flags) != nil; got != want {
			t.Errorf("%s: in the way is %v, want %v", folder, got, want)
		}
	}
}

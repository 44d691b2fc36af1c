package private

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
)

// folder is t.TempDir, but that it cannot be removed is no fault: Wine 8 cannot.
func folder(t *testing.T) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	return dir
}

func TestFolder(t *testing.T) {
	dir := filepath.Join(folder(t), "ours")
	for _, step := range []string{"made", "there already"} {
		if err := Folder(dir); err != nil {
			t.Fatalf("%s: %v", step, err)
		}
	}
	file := filepath.Join(dir, "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := OnlyUserWrites(file); err != nil {
		t.Error(err)
	}
	if err := Folder(file); !errors.Is(err, ErrOpen) {
		t.Errorf("a file: %v; want ErrOpen", err)
	}
	// What others may write to is refused, and stays as it is.
	open(t, dir)
	for _, check := range []func(string) error{Folder, OnlyUserWrites, NotForAll} {
		if err := check(dir); !errors.Is(err, ErrOpen) {
			t.Errorf("%v; want ErrOpen", err)
		}
	}
}

func TestOnlyUserReads(t *testing.T) {
	name := filepath.Join(folder(t), "secret")
	f, err := Create(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := OnlyUserReads(f); err != nil {
		t.Error(err)
	}
	if _, err := Create(name); !errors.Is(err, os.ErrExist) {
		t.Errorf("created twice: %v", err)
	}
	open(t, name)
	if err := OnlyUserReads(f); !errors.Is(err, ErrReadable) {
		t.Errorf("open to all: %v; want ErrReadable", err)
	}
}

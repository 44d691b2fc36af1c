package disk

import (
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"time"

	"golang.org/x/sys/windows"

	"primaprova/io/private"
)

// replace gives the new file the access rights that its folder hands down; one that only
// its owner is to read is the user's alone.
func replace(path string, data []byte, perm fs.FileMode) (err error) {
	aside := filepath.Join(filepath.Dir(path), fmt.Sprintf(".%s%d", filepath.Base(path), 1e9+rand.Int64N(1e9)))
	var f *os.File
	if perm&0o077 == 0 {
		f, err = private.Create(aside)
	} else {
		f, err = os.OpenFile(aside, os.O_WRONLY|os.O_CREATE|os.O_EXCL, perm)
	}
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err = errors.Join(err, f.Sync(), f.Close()); err == nil {
		err = rename(aside, path)
	}
	if err != nil {
		_ = os.Remove(aside)
	}
	return err
}

// tries is how often a rename is tried, a fiftieth of a second apart: whoever reads the old
// file just now, a virus scanner say, keeps it from being replaced.
const tries = 100

// rename waits until the disk has the new name.
func rename(from, to string) error {
	a, err := windows.UTF16PtrFromString(from)
	if err != nil {
		return err
	}
	b, err := windows.UTF16PtrFromString(to)
	if err != nil {
		return err
	}
	for range tries {
		err = windows.MoveFileEx(a, b, windows.MOVEFILE_REPLACE_EXISTING|windows.MOVEFILE_WRITE_THROUGH)
		if !errors.Is(err, windows.ERROR_SHARING_VIOLATION) && !errors.Is(err, windows.ERROR_ACCESS_DENIED) {
			break
		}
		time.Sleep(time.Second / 50)
	}
	return err
}

func link(from, to string) error { return os.Link(from, to) }

// syncDir has nothing to do: a rename here waits for the disk.
func syncDir(string) error { return nil }

package disk

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"time"
)

// Write puts data in place of what path holds: a new file in the same folder,
// synced, renamed, and the folder synced. A link is followed; a file that is
// there keeps its permissions, a new one gets perm. Nothing but a file is
// written over. The error is an *fs.PathError that names path.
func Write(path string, data []byte, perm fs.FileMode) error {
	target := path
	if t, err := filepath.EvalSymlinks(path); err == nil {
		target = t
	}
	switch info, err := os.Stat(target); {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return at(path, err)
	case !info.Mode().IsRegular():
		return at(path, errors.New("is not a regular file")) // a rename would put a file in place of a device or a pipe
	}
	sweepOld(target)
	if err := replace(target, data, perm); err != nil {
		return at(path, err)
	}
	return at(path, syncDir(filepath.Dir(target)))
}

// Create is Write for a file that must not be there yet: the system itself sees
// to it that nothing is written over, also by two at once. The error is
// fs.ErrExist where there is one.
func Create(path string, data []byte, perm fs.FileMode) error {
	if _, err := os.Lstat(path); err == nil {
		return at(path, fs.ErrExist)
	}
	dir := filepath.Dir(path)
	aside := filepath.Join(dir, fmt.Sprintf(".%s%d", filepath.Base(path), 1e9+rand.Int64N(1e9)))
	f, err := os.OpenFile(aside, os.O_WRONLY|os.O_CREATE|os.O_EXCL, perm)
	if err != nil {
		return at(path, err)
	}
	defer os.Remove(aside) //nolint:errcheck // its other name stays
	_, err = f.Write(data)
	if err = errors.Join(err, f.Sync(), f.Close()); err != nil {
		return at(path, err)
	}
	err = link(aside, path)
	if err != nil && !errors.Is(err, fs.ErrExist) {
		// A file system without links: the look at the beginning has to do.
		err = os.Rename(aside, path)
	}
	if err != nil {
		return at(path, err)
	}
	return at(path, syncDir(dir))
}

// Sum tells one state of a file from another; a file that is not there, or
// can't be read, has the sum of nothing.
func Sum(path string) [sha256.Size]byte {
	b, err := os.ReadFile(path)
	if err != nil {
		return [sha256.Size]byte{}
	}
	return sha256.Sum256(b)
}

// SyncDir makes last what a folder holds.
func SyncDir(dir string) error { return at(dir, syncDir(dir)) }

// at gives an error the name that the player knows, in place of that of a
// temporary file.
func at(path string, err error) error {
	if err == nil {
		return nil
	}
	if all, ok := err.(interface{ Unwrap() []error }); ok {
		err = all.Unwrap()[0]
	}
	for inner := err; inner != nil; inner = errors.Unwrap(inner) {
		err = inner
	}
	return &fs.PathError{Op: "write", Path: path, Err: err}
}

var leftOver = regexp.MustCompile(`^\d{5,}$`)

// sweepOld takes away what was left by somebody who was killed while writing the
// same file, more than an hour ago.
func sweepOld(path string) {
	sweep(filepath.Dir(path), time.Hour, func(name string) bool {
		base := "." + filepath.Base(path)
		return len(name) > len(base) && name[:len(base)] == base && leftOver.MatchString(name[len(base):])
	})
}

func sweep(dir string, age time.Duration, ours func(name string) bool) {
	list, err := os.ReadDir(dir)
	if err != nil {
		return
	}
	for _, e := range list {
		if !e.Type().IsRegular() || !ours(e.Name()) {
			continue
		}
		if info, err := e.Info(); err == nil && time.Since(info.ModTime()) >= age {
			_ = os.Remove(filepath.Join(dir, e.Name()))
		}
	}
}

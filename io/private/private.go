// Package private makes files and folders that are their user's alone, and tells of those
// that are not. What others may change or read is refused, never repaired: only its owner
// knows why it is so.
//
// On Windows the system's own accounts and administrators count as the user, as the
// superuser does elsewhere.
package private

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
)

// What is found wrong.
var (
	ErrOpen     = errors.New("refused") // others may change it
	ErrReadable = errors.New("others may read it")
)

// Folder makes a folder that nobody but the user may look into. One that stands already
// must be a folder and no link, and pass [OnlyUserWrites].
func Folder(dir string) error {
	if err := makeFolder(dir); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	info, err := os.Lstat(dir)
	if err != nil {
		return err
	}
	if !info.IsDir() {
		return fmt.Errorf("%w: %s is not a folder", ErrOpen, dir)
	}
	return OnlyUserWrites(dir)
}

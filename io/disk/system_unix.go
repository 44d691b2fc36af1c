//go:build unix

package disk

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"

	"github.com/google/renameio/v2"
)

// replace leaves the new file beside the old one until it is whole: there is
// certainly a right to write there, which the folder for temporary files may
// not share a disk with.
func replace(path string, data []byte, perm fs.FileMode) error {
	return renameio.WriteFile(path, data, perm, renameio.WithTempDir(filepath.Dir(path)))
}

func link(from, to string) error { return os.Link(from, to) }

// syncDir is nothing on file systems that cannot do it.
func syncDir(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	if err := d.Sync(); err != nil && !errors.Is(err, syscall.EINVAL) && !errors.Is(err, syscall.ENOTSUP) {
		return err
	}
	return nil
}

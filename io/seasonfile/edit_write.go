package seasonfile

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"syscall"

	"github.com/google/renameio/v2"
)

// Replace writes the file that an edit changes in the place of the one that was
// read, the season file or a table that it names: a new file in the same folder, synced, renamed, and the folder synced, so that
// at any moment the file is wholly the old one or wholly the new one. A link
// is followed; permissions stay. When the file is no longer what was read, since
// somebody saved it meanwhile, nothing is written.
func (f *File) Replace(read *File) error {
	named := f.Changed(read)
	if named == "" {
		return nil
	}
	was, is := read.Source, f.Source
	for name, n := range f.Others {
		if n.Path == named && named != f.Path {
			was, is = read.Others[name].Source, n.Source
		}
	}
	now, err := load(named)
	if err != nil {
		return err
	}
	if !bytes.Equal(now, was) {
		return Errors{{File: named, Text: "was changed by somebody else meanwhile; nothing was written", Advice: "run the command again"}}
	}
	path := named
	if target, err := filepath.EvalSymlinks(path); err == nil {
		path = target
	}
	if info, err := os.Stat(path); err != nil || !info.Mode().IsRegular() {
		return Errors{{File: named, Text: "is not a regular file, so it can't be changed"}}
	}
	dir := filepath.Dir(path)
	if err := renameio.WriteFile(path, is, 0o644, renameio.WithTempDir(dir)); err != nil {
		return err
	}
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	// Some file systems cannot sync a folder; there is nothing more to be done on them.
	if err := d.Sync(); err != nil && !errors.Is(err, syscall.EINVAL) && !errors.Is(err, syscall.ENOTSUP) {
		return err
	}
	return nil
}

package ortools

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// errUnsafe marks a file or folder that somebody else could change between its check
// and its loading. It is refused, never repaired: only its owner knows why it is so.
var errUnsafe = errors.New("refused")

// privateFolders makes folder, which is ours, and the folders down to the slash-separated
// path below it, readable by the user alone. Those that stand already must belong to
// the user, be writable by nobody else, and be no links.
func privateFolders(folder, below string) error {
	dir := folder
	if err := privateFolder(dir); err != nil {
		return err
	}
	for _, name := range strings.Split(below, "/") {
		dir = filepath.Join(dir, name)
		if err := privateFolder(dir); err != nil {
			return err
		}
	}
	return nil
}

func privateFolder(dir string) error {
	if err := os.Mkdir(dir, 0o700); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	info, err := os.Lstat(dir)
	if err != nil {
		return err
	}
	if !info.IsDir() {
		return fmt.Errorf("%w: %s is not a folder", errUnsafe, dir)
	}
	return checkPrivate(dir, info)
}

// checkPrivate refuses what others own or can write to.
func checkPrivate(name string, info fs.FileInfo) error {
	if !ownedByUser(info) {
		return fmt.Errorf("%w: %s belongs to another user", errUnsafe, name)
	}
	if info.Mode().Perm()&0o022 != 0 {
		return fmt.Errorf("%w: others can write to %s (chmod go-w %[2]s)", errUnsafe, name)
	}
	return nil
}

// checkParent looks at the folder ours is made in, commonly ~/.cache. Its owner may be the
// user or the system, and its group may write (many systems give each user a group of his
// own), but a folder where anybody may rename ours is refused.
func checkParent(dir string) error {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return err
	}
	info, err := os.Stat(dir)
	if err != nil {
		return err
	}
	if info.Mode().Perm()&0o002 != 0 && info.Mode()&fs.ModeSticky == 0 {
		return fmt.Errorf("%w: anybody can write to %s (chmod o-w %[2]s)", errUnsafe, dir)
	}
	return nil
}

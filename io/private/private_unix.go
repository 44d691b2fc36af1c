//go:build unix

package private

import (
	"fmt"
	"io/fs"
	"os"
	"syscall"
)

func makeFolder(dir string) error { return os.Mkdir(dir, 0o700) }

// OnlyUserWrites refuses what belongs to another user, or what others may write to. Links
// are not followed.
func OnlyUserWrites(name string) error {
	info, err := os.Lstat(name)
	if err != nil {
		return err
	}
	if st, ok := info.Sys().(*syscall.Stat_t); !ok || int(st.Uid) != os.Getuid() {
		return fmt.Errorf("%w: %s belongs to another user", ErrOpen, name)
	}
	if info.Mode().Perm()&0o022 != 0 {
		return fmt.Errorf("%w: others can write to %s (chmod go-w %[2]s)", ErrOpen, name)
	}
	return nil
}

// NotForAll refuses a folder in which anybody may rename what is the user's. Its owner may
// be the user or the system, and its group may write: many systems give each user a group
// of his own.
func NotForAll(dir string) error {
	info, err := os.Stat(dir)
	if err != nil {
		return err
	}
	if info.Mode().Perm()&0o002 != 0 && info.Mode()&fs.ModeSticky == 0 {
		return fmt.Errorf("%w: anybody can write to %s (chmod o-w %[2]s)", ErrOpen, dir)
	}
	return nil
}

// OnlyUserReads refuses an open file that others may read or write: ErrReadable, with
// the rights it has.
func OnlyUserReads(f *os.File) error {
	info, err := f.Stat()
	if err != nil {
		return err
	}
	if info.Mode().Perm()&0o077 != 0 {
		return fmt.Errorf("%w (%s)", ErrReadable, info.Mode().Perm())
	}
	return nil
}

// Create makes a new file that nobody but the user may read or write.
func Create(name string) (*os.File, error) {
	return os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
}

// CloseCommand is the command that takes everybody else's rights to a file away.
func CloseCommand(name string) string { return "chmod 600 " + name }

// Suffix tells the user's folder in a shared one from other users'.
func Suffix() string { return fmt.Sprint("-", os.Getuid()) }

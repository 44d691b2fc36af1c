package ortools

import (
	"fmt"
	"os"
	"path/filepath"
	"syscall"
)

// stNoExec is ST_NOEXEC of statfs(2): nothing on that file system is loaded as code.
const stNoExec = 0x8

// loads tells why libraries in a folder, which need not be there yet, could not be
// loaded: it lies on a file system mounted noexec. Nil where nothing is known to be in
// the way.
func loads(folder string) error {
	return loadsFrom(folder, func(folder string) (int64, error) {
		var fs syscall.Statfs_t
		err := syscall.Statfs(folder, &fs)
		return int64(fs.Flags), err
	})
}

func loadsFrom(folder string, flags func(folder string) (int64, error)) error {
	for {
		f, err := flags(folder)
		if err == nil && f&stNoExec != 0 {
			return fmt.Errorf("%s is mounted so that nothing in it may run (noexec)", folder)
		}
		above := filepath.Dir(folder)
		if !os.IsNotExist(err) || above == folder {
			return nil
		}
		folder = above
	}
}

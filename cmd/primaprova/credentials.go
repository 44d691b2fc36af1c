package main

import (
	"bufio"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"primaprova/io/caldav"
	"primaprova/io/private"
)

// credentials gives the user and the password for the calendar server: from the
// environment, else from a file that nobody else may read. Never from a flag,
// which other users of the machine can see, nor from the settings, which are
// printed.
func (a *app) credentials() (caldav.Credentials, error) {
	who := caldav.Credentials{User: os.Getenv(envPrefix + "_USER"), Password: os.Getenv(envPrefix + "_PASSWORD")}
	if who != (caldav.Credentials{}) {
		if who.User == "" || who.Password == "" {
			return who, wrong("%s_USER and %s_PASSWORD: one is set without the other", envPrefix, envPrefix)
		}
		return who, nil
	}
	path := a.set.get("credentials")
	named := path != ""
	if !named {
		dir, err := os.UserConfigDir()
		if err != nil {
			return who, nil
		}
		path = filepath.Join(dir, "primaprova", "credentials")
	}
	info, err := os.Stat(path)
	if errors.Is(err, fs.ErrNotExist) && !named {
		return who, nil
	}
	if err != nil {
		return who, fileTrouble(err)
	}
	// A pipe, as of a password program, is nobody else's; but only one that is
	// named is waited for.
	pipe := info.Mode()&fs.ModeNamedPipe != 0
	if pipe && !strings.HasPrefix(path, "/dev/fd/") && !strings.HasPrefix(path, "/proc/") {
		return who, wrong("%s: is a pipe, which may never be written to; name a file", path)
	}
	f, err := os.Open(path)
	if err != nil {
		return who, fileTrouble(err)
	}
	defer f.Close()
	info, err = f.Stat() // of what was opened, which a name can't be relied on for
	if err != nil {
		return who, fileTrouble(err)
	}
	if !info.Mode().IsRegular() && !pipe {
		return who, wrong("%s: is no file", path)
	}
	if pipe {
		// nobody else has it
	} else if err := private.OnlyUserReads(f); errors.Is(err, private.ErrReadable) {
		return who, wrong("%s: %v; a file with a password is its owner's alone: %s", path, err, private.CloseCommand(quoted(path)))
	} else if err != nil {
		return who, fileTrouble(err)
	}
	lines := bufio.NewScanner(f)
	var read []string
	for lines.Scan() {
		read = append(read, strings.TrimSuffix(strings.TrimPrefix(lines.Text(), "\ufeff"), "\r"))
	}
	if err := lines.Err(); err != nil {
		return who, wrong("%s: cannot be read: it is to hold two short lines", path)
	}
	for len(read) > 0 && read[len(read)-1] == "" {
		read = read[:len(read)-1]
	}
	if len(read) != 2 || read[0] == "" || read[1] == "" {
		return who, wrong("%s: is to hold two lines, the user and the password", path)
	}
	return caldav.Credentials{User: read[0], Password: read[1]}, nil
}

package feed

import (
	"crypto/rand"
	"encoding/base64"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"

	"primaprova/io/disk"
	"primaprova/io/private"
)

// keyBytes of chance make a key: as many as an ordinary secret key has.
const keyBytes = 32

// Key reads the key in a file that its owner alone may read (private.ErrReadable). Where there is no
// such file, or another key is wanted, it makes one.
func Key(path string, another bool) (string, error) {
	if !another {
		if key, err := Read(path); !errors.Is(err, fs.ErrNotExist) {
			return key, err
		}
	}
	return newKey(path)
}

// Read reads the key; where there is none the error is fs.ErrNotExist.
func Read(path string) (string, error) {
	if info, err := os.Stat(path); err != nil {
		return "", err
	} else if !info.Mode().IsRegular() { // a pipe would wait for a writer
		return "", fmt.Errorf("%s: holds no key", path)
	}
	f, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer f.Close()
	if err := private.OnlyUserReads(f); err != nil {
		return "", fmt.Errorf("%s: %w", path, err)
	}
	b := make([]byte, 100)
	n, err := f.Read(b)
	if err != nil && n > 0 {
		return "", err
	}
	key := strings.TrimSpace(string(b[:n]))
	if raw, err := base64.RawURLEncoding.Strict().DecodeString(key); err != nil || len(raw) != keyBytes || strings.ContainsAny(key, "\r\n") { // which it passes over
		return "", fmt.Errorf("%s: holds no key", path)
	}
	return key, nil
}

func newKey(path string) (string, error) {
	b := make([]byte, keyBytes)
	if _, err := rand.Read(b); err != nil {
		return "", err
	}
	key := base64.RawURLEncoding.EncodeToString(b)
	// One that others may read is not to stay so.
	if err := os.Chmod(path, 0o600); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return "", err
	}
	return key, disk.Write(path, []byte(key+"\n"), 0o600)
}

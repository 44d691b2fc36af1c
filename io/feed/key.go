package feed

import (
	"crypto/rand"
	"encoding/base64"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/google/renameio/v2"
)

// keyBytes of chance make a key: as many as an ordinary secret key has.
const keyBytes = 32

// ErrOpen says that others may read the file of the key.
var ErrOpen = errors.New("others may read it")

// Key reads the key in a file that its owner alone may read. Where there is no
// such file, or another key is wanted, it makes one.
func Key(path string, another bool) (string, error) {
	f, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) || err == nil && another {
		if err == nil {
			f.Close()
		}
		return newKey(path)
	}
	if err != nil {
		return "", err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return "", err
	}
	if info.Mode().Perm()&0o077 != 0 {
		return "", fmt.Errorf("%s: %w (%s)", path, ErrOpen, info.Mode().Perm())
	}
	b := make([]byte, 100)
	n, err := f.Read(b)
	if err != nil && n > 0 {
		return "", err
	}
	key := strings.TrimSuffix(string(b[:n]), "\n")
	if raw, err := base64.RawURLEncoding.DecodeString(key); err != nil || len(raw) != keyBytes {
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
	return key, renameio.WriteFile(path, []byte(key+"\n"), 0o600, renameio.WithTempDir(filepath.Dir(path)), renameio.IgnoreUmask())
}

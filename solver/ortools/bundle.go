package ortools

import (
	"archive/tar"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"github.com/klauspost/compress/zstd"

	"primaprova/io/private"
)

// A Bundle is a set of files with their sums: in Files stand NAME.sums, lines
// "sha256  path" as sha256sum writes them, and NAME.tar.zst, the files themselves. Paths
// are those of the wheel, since the libraries find one another by their places.
type Bundle struct {
	Files fs.FS
	Name  string
}

// A sum is one line of NAME.sums.
type sum struct{ hash, path string }

func (b Bundle) sums() ([]sum, error) {
	file := b.Name + ".sums"
	text, err := fs.ReadFile(b.Files, file)
	if err != nil {
		return nil, err
	}
	var list []sum
	for i, line := range strings.Split(strings.TrimSuffix(string(text), "\n"), "\n") {
		hash, name, ok := strings.Cut(line, "  ")
		if raw, err := hex.DecodeString(hash); !ok || err != nil || len(raw) != sha256.Size {
			return nil, fmt.Errorf("%s:%d: want a sha256, two spaces and a path", file, i+1)
		}
		if !filepath.IsLocal(name) || path.Clean(name) != name {
			return nil, fmt.Errorf("%s:%d: path: %q: leads outside the folder", file, i+1, name)
		}
		list = append(list, sum{hash, name})
	}
	return list, nil
}

// Ensure makes every file of the bundle stand in folder with the right contents, and
// writes only what is missing or spoilt. Folder must exist; it and the folders made
// below it are for the user alone.
//
// Each file is written aside and renamed, so several processes may do this at once: they
// put the same bytes in the same places, and whoever has the old file open keeps it.
func (b Bundle) Ensure(ctx context.Context, folder string) error {
	sums, err := b.sums()
	if err != nil {
		return err
	}
	wanted := map[string]string{}
	made := map[string]bool{}
	for _, s := range sums {
		if err := ctx.Err(); err != nil {
			return err
		}
		if dir := path.Dir(s.path); !made[dir] {
			if err := privateFolders(folder, dir); err != nil {
				return err
			}
			made[dir] = true
		}
		switch err := checkFile(filepath.Join(folder, filepath.FromSlash(s.path)), s.hash); {
		case errors.Is(err, private.ErrOpen):
			return err
		case err != nil:
			wanted[s.path] = s.hash
		}
	}
	if len(wanted) == 0 {
		return nil
	}
	return b.unpack(ctx, folder, wanted)
}

// unpack writes the files named in wanted, a map from path to sha256.
func (b Bundle) unpack(ctx context.Context, folder string, wanted map[string]string) error {
	file := b.Name + ".tar.zst"
	f, err := b.Files.Open(file)
	if err != nil {
		return err
	}
	defer f.Close()
	z, err := zstd.NewReader(f)
	if err != nil {
		return err
	}
	defer z.Close()
	swept := map[string]bool{}
	for r := tar.NewReader(z); len(wanted) > 0; {
		head, err := r.Next()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return fmt.Errorf("%s: %w", file, err)
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		hash, ok := wanted[head.Name]
		if !ok {
			continue
		}
		delete(wanted, head.Name)
		target := filepath.Join(folder, filepath.FromSlash(head.Name))
		if dir := filepath.Dir(target); !swept[dir] {
			sweep(dir)
			swept[dir] = true
		}
		if err := writeAside(target, r, hash); err != nil {
			return err
		}
	}
	for name := range wanted {
		return fmt.Errorf("%s: %s: missing, though its sum is listed", file, name)
	}
	return nil
}

// privateFolders makes folder, which is ours, and the folders down to the slash-separated
// path below it, for the user alone. Those that stand already must be so.
func privateFolders(folder, below string) error {
	dir := folder
	if err := private.Folder(dir); err != nil {
		return err
	}
	for _, name := range strings.Split(below, "/") {
		dir = filepath.Join(dir, name)
		if err := private.Folder(dir); err != nil {
			return err
		}
	}
	return nil
}

// asidePrefix begins the name of a file that is not finished.
const asidePrefix = ".unpacking-"

// writeAside writes a new file, checks it and renames it to target. It does not wait for
// the disk: every start checks the sums, so a file lost in a power cut is written again.
func writeAside(target string, r io.Reader, hash string) (err error) {
	f, err := os.CreateTemp(filepath.Dir(target), asidePrefix+"*") // made with mode 0600
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(f.Name())
		}
	}()
	h := sha256.New()
	if _, err := io.Copy(io.MultiWriter(f, h), r); err != nil {
		return err
	}
	if got := hex.EncodeToString(h.Sum(nil)); got != hash {
		return fmt.Errorf("%s: unpacked, its sha256 is %s, want %s", target, got, hash)
	}
	if err := f.Close(); err != nil {
		return err
	}
	return putInPlace(f.Name(), target, hash)
}

// patience is how often a file is put in place, a fiftieth of a second apart.
const patience = 100

// putInPlace renames a finished file to target. On Windows that fails while somebody has
// the old file open: where it is the right one by now, as another process put it there, it
// stays; where it is not, since it is loaded there, it is renamed out of the way.
func putInPlace(from, target, hash string) error {
	var err error
	for range patience {
		if err = os.Rename(from, target); err == nil || runtime.GOOS != "windows" {
			return err
		}
		if checkFile(target, hash) == nil {
			return os.Remove(from)
		}
		os.Rename(target, from+".old") // swept later; where it fails the next try tells
		time.Sleep(time.Second / 50)
	}
	return err
}

// sweep removes what a killed process left unfinished. An hour is far longer than any
// unpacking takes, so the files of one still at work stay.
func sweep(dir string) {
	entries, _ := os.ReadDir(dir)
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), asidePrefix) {
			continue
		}
		if info, err := e.Info(); err == nil && time.Since(info.ModTime()) > time.Hour {
			os.Remove(filepath.Join(dir, e.Name()))
		}
	}
}

// checkFile tells whether name is a plain file of ours with this sha256.
func checkFile(name, hash string) error {
	info, err := os.Lstat(name)
	if err != nil {
		return err
	}
	if !info.Mode().IsRegular() {
		return fmt.Errorf("%s: not a plain file", name)
	}
	if err := private.OnlyUserWrites(name); err != nil {
		return err
	}
	got, err := fileSHA256(name)
	if err != nil {
		return err
	}
	if got != hash {
		return fmt.Errorf("%s: sha256 is %s, want %s", name, got, hash)
	}
	return nil
}

func fileSHA256(name string) (string, error) {
	f, err := os.Open(name)
	if err != nil {
		return "", err
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

package ortools

import (
	"archive/tar"
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/klauspost/compress/zstd"

	"primaprova/io/private"
)

// small is a bundle of three small files, called name.
func small(t testing.TB, name string) fstest.MapFS {
	t.Helper()
	files := map[string]string{
		"ortools/.libs/" + HiGHS.FileName("linux"): "the first library " + name,
		"ortools/.libs/" + CPSAT.FileName("linux"): strings.Repeat("the second library ", 1000),
		"ortools.libs/liba.so":                     "",
	}
	var sums strings.Builder
	var packed bytes.Buffer
	z, err := zstd.NewWriter(&packed)
	if err != nil {
		t.Fatal(err)
	}
	w := tar.NewWriter(z)
	for path, text := range files {
		fmt.Fprintf(&sums, "%x  %s\n", sha256.Sum256([]byte(text)), path)
		if err := w.WriteHeader(&tar.Header{Name: path, Mode: 0o644, Size: int64(len(text))}); err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write([]byte(text)); err != nil {
			t.Fatal(err)
		}
	}
	if err := errors.Join(w.Close(), z.Close()); err != nil {
		t.Fatal(err)
	}
	return fstest.MapFS{
		name + ".sums":    {Data: []byte(sums.String())},
		name + ".tar.zst": {Data: packed.Bytes()},
	}
}

// ensureSmall unpacks a small bundle into a new folder and gives both.
func ensureSmall(t *testing.T) (Bundle, string) {
	t.Helper()
	b := Bundle{Files: small(t, "b"), Name: "b"}
	folder := filepath.Join(t.TempDir(), "folder")
	if err := b.Ensure(context.Background(), folder); err != nil {
		t.Fatal(err)
	}
	return b, folder
}

// inode tells files apart that were written anew.
func stat(t *testing.T, name string) fs.FileInfo {
	t.Helper()
	info, err := os.Lstat(name)
	if err != nil {
		t.Fatal(err)
	}
	return info
}

func TestEnsureUnpacksPrivately(t *testing.T) {
	b, folder := ensureSmall(t)
	sums, err := b.sums()
	if err != nil || len(sums) != 3 {
		t.Fatalf("sums: %v, %v; want three", sums, err)
	}
	for _, s := range sums {
		name := filepath.Join(folder, s.path)
		if got, err := fileSHA256(name); err != nil || got != s.hash {
			t.Errorf("%s: %s, %v; want %s", s.path, got, err, s.hash)
		}
	}
	err = filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error {
		if err == nil && stat(t, path).Mode().Perm()&0o077 != 0 {
			t.Errorf("%s: %v; want it open to the user alone", path, stat(t, path).Mode())
		}
		if strings.HasPrefix(d.Name(), asidePrefix) {
			t.Errorf("%s: left behind", path)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestEnsureWritesOnlyWhatIsSpoilt(t *testing.T) {
	first, second := "ortools/.libs/libhighs.so.1", "ortools/.libs/libortools.so.9"
	spoil := map[string]func(name string) error{
		"missing":   os.Remove,
		"cut short": func(name string) error { return os.Truncate(name, 5) },
		"empty":     func(name string) error { return os.Truncate(name, 0) },
		"one byte changed, length and date kept": func(name string) error {
			info, err := os.Stat(name)
			if err != nil {
				return err
			}
			data, err := os.ReadFile(name)
			if err != nil {
				return err
			}
			data[3] ^= 1
			return errors.Join(os.WriteFile(name, data, 0o600), os.Chtimes(name, time.Time{}, info.ModTime()))
		},
		"a link": func(name string) error {
			return errors.Join(os.Rename(name, name+".else"), os.Symlink(name+".else", name))
		},
	}
	for what, do := range spoil {
		t.Run(what, func(t *testing.T) {
			b, folder := ensureSmall(t)
			kept := stat(t, filepath.Join(folder, second))
			if err := do(filepath.Join(folder, first)); err != nil {
				t.Fatal(err)
			}
			if err := b.Ensure(context.Background(), folder); err != nil {
				t.Fatal(err)
			}
			text, err := os.ReadFile(filepath.Join(folder, first))
			if err != nil || string(text) != "the first library b" {
				t.Errorf("not mended: %q, %v", text, err)
			}
			if !stat(t, filepath.Join(folder, first)).Mode().IsRegular() {
				t.Errorf("not a plain file after mending")
			}
			if !os.SameFile(kept, stat(t, filepath.Join(folder, second))) {
				t.Errorf("%s was sound and was written again", second)
			}
		})
	}
}

// A sound cache is left alone: it may lie on a disk that cannot be written.
func TestEnsureNeedsNoTarWhenAllIsThere(t *testing.T) {
	b, folder := ensureSmall(t)
	delete(b.Files.(fstest.MapFS), "b.tar.zst")
	if err := b.Ensure(context.Background(), folder); err != nil {
		t.Fatal(err)
	}
}

func TestEnsureRefusesWhatOthersCanChange(t *testing.T) {
	for _, name := range []string{".", "ortools", "ortools/.libs", "ortools/.libs/libhighs.so.1"} {
		b, folder := ensureSmall(t)
		name = filepath.Join(folder, name)
		if err := os.Chmod(name, stat(t, name).Mode().Perm()|0o020); err != nil {
			t.Fatal(err)
		}
		err := b.Ensure(context.Background(), folder)
		if !errors.Is(err, private.ErrOpen) || !strings.Contains(err.Error(), "chmod go-w "+name) {
			t.Errorf("%s writable by a group: %v", name, err)
		}
	}
	b, folder := ensureSmall(t)
	dir := filepath.Join(folder, "ortools")
	if err := errors.Join(os.Rename(dir, dir+".else"), os.Symlink(dir+".else", dir)); err != nil {
		t.Fatal(err)
	}
	if err := b.Ensure(context.Background(), folder); !errors.Is(err, private.ErrOpen) {
		t.Errorf("a link in place of a folder: %v", err)
	}
}

func TestEnsureFindsFaultsOfTheBundle(t *testing.T) {
	good := strings.Repeat("0", 64)
	for sums, want := range map[string]string{
		"":                                       "b.sums:1: want a sha256",
		good + " one-space\n":                    "b.sums:1: want a sha256",
		"00  short\n":                            "b.sums:1: want a sha256",
		good + "  a\n" + good + "  ../out\n":     "b.sums:2: path: \"../out\": leads outside",
		good + "  /etc/out\n":                    "leads outside",
		good + "  a/../b\n":                      "leads outside",
		good + "  ortools/.libs/libhighs.so.1\n": "its sha256 is",
		good + "  ortools/.libs/other\n":         "missing, though its sum is listed",
	} {
		files := small(t, "b")
		files["b.sums"] = &fstest.MapFile{Data: []byte(sums)}
		folder := filepath.Join(t.TempDir(), "folder")
		err := Bundle{Files: files, Name: "b"}.Ensure(context.Background(), folder)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("sums %q: %v; want %q", sums, err, want)
		}
		left, _ := filepath.Glob(filepath.Join(folder, "*", ".libs", "*"))
		if len(left) > 0 {
			t.Errorf("sums %q: left %v", sums, left)
		}
	}
	files := small(t, "b")
	files["b.tar.zst"].Data = files["b.tar.zst"].Data[:60]
	if err := (Bundle{Files: files, Name: "b"}).Ensure(context.Background(), filepath.Join(t.TempDir(), "f")); err == nil {
		t.Error("a tar cut short was taken")
	}
}

func TestEnsureStops(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	err := Bundle{Files: small(t, "b"), Name: "b"}.Ensure(ctx, filepath.Join(t.TempDir(), "f"))
	if !errors.Is(err, context.Canceled) {
		t.Errorf("%v; want canceled", err)
	}
}

func TestSweepTakesOldLeavingsOnly(t *testing.T) {
	b, folder := ensureSmall(t)
	dir := filepath.Join(folder, "ortools", ".libs")
	old, fresh := filepath.Join(dir, asidePrefix+"old"), filepath.Join(dir, asidePrefix+"fresh")
	for _, name := range []string{old, fresh} {
		if err := os.WriteFile(name, nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	long := time.Now().Add(-2 * time.Hour)
	if err := errors.Join(os.Chtimes(old, long, long), os.Remove(filepath.Join(dir, "libhighs.so.1"))); err != nil {
		t.Fatal(err)
	}
	if err := b.Ensure(context.Background(), folder); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(old); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("old leavings still there: %v", err)
	}
	stat(t, fresh)
}

// raceFolder, when set, turns this test program into one of several that unpack the real
// bundles into the same folder at once.
const raceFolder = "ORTOOLS_TEST_RACE_FOLDER"

func TestMain(m *testing.M) {
	var err error
	switch {
	case os.Getenv(raceFolder) != "":
		err = unpackAll(os.Getenv(raceFolder))
	case os.Getenv(openPath) != "":
		err = openHere(os.Getenv(openPath))
	default:
		os.Exit(m.Run())
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func unpackAll(folder string) error {
	for _, name := range CPSAT.bundles() {
		if err := (Bundle{Files: os.DirFS(realBundles()), Name: name}).Ensure(context.Background(), folder); err != nil {
			return err
		}
	}
	return nil
}

func TestTwoProcessesUnpackAtOnce(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "folder")
	outputs := make([]bytes.Buffer, 3)
	var running []*exec.Cmd
	for i := range outputs {
		cmd := exec.Command(testProgram(t))
		cmd.Env = append(os.Environ(), raceFolder+"="+folder)
		cmd.Stderr = &outputs[i]
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		running = append(running, cmd)
	}
	for i, cmd := range running {
		if err := cmd.Wait(); err != nil {
			t.Errorf("process %d: %v: %s", i, err, &outputs[i])
		}
	}
	var files []string
	err := filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			files = append(files, path)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	var want []string
	for _, name := range CPSAT.bundles() {
		sums, err := Bundle{Files: os.DirFS(realBundles()), Name: name}.sums()
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range sums {
			path := filepath.Join(folder, s.path)
			want = append(want, path)
			if err := checkFile(path, s.hash); err != nil {
				t.Error(err)
			}
		}
	}
	slices.Sort(want)
	if slices.Sort(files); !slices.Equal(files, want) {
		t.Errorf("%d files, want %d: something was left aside or is missing", len(files), len(want))
	}
}

// testProgram is this test program, by a path that holds wherever it is started.
func testProgram(t *testing.T) string {
	t.Helper()
	path, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	return path
}

package ortools

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"primaprova/io/private"
	"primaprova/solver/sharedlib"
)

// realBundles is where "make deps" put the bundles of this platform.
func realBundles() string {
	return filepath.Join("bundle", runtime.GOOS+"-"+runtime.GOARCH)
}

// oneLine checks that err is an AbsentError of one line with all the words.
func oneLine(t *testing.T, err error, words ...string) {
	t.Helper()
	var absent *AbsentError
	if !errors.As(err, &absent) {
		t.Fatalf("%v: want an AbsentError", err)
	}
	text := err.Error()
	if strings.Contains(text, "\n") {
		t.Errorf("%q: more than one line", text)
	}
	for _, w := range words {
		if !strings.Contains(text, w) {
			t.Errorf("%q: lacks %q", text, w)
		}
	}
}

// openPath, when set, turns this test program into one that opens a library as the
// bindings do. A process of its own, because a second copy of libortools in one process
// aborts it: both register the same protocol buffers.
const openPath = "ORTOOLS_TEST_OPEN_PATH"

func open(t *testing.T, path string) {
	t.Helper()
	cmd := exec.Command(testProgram(t))
	cmd.Env = append(os.Environ(), openPath+"="+path)
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Errorf("%s: %v: %s", path, err, out)
	}
}

func openHere(path string) error {
	if err := openRuntime(); err != nil {
		return err
	}
	handle, err := sharedlib.Open(path)
	if err != nil {
		return err
	}
	symbol := "Highs_create"
	if strings.Contains(filepath.Base(path), "ortools") {
		symbol = "SolveCpNewEnv"
	}
	_, err = handle.Symbol(symbol)
	return err
}

func TestBothEnginesOpenFromTheCache(t *testing.T) {
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	t.Setenv("HOME", t.TempDir())
	pin, err := PinFor(ThisPlatform)
	if err != nil {
		t.Fatal(err)
	}
	for _, lib := range []Library{HiGHS, CPSAT} {
		path, err := inCache(context.Background(), lib, pin, os.DirFS(realBundles()))
		if err != nil {
			t.Fatal(err)
		}
		cache, err := os.UserCacheDir()
		if err != nil {
			t.Fatal(err)
		}
		want := filepath.Join(cache, "primaprova", pin.Folder(), "ortools", ".libs", lib.FileName(runtime.GOOS))
		if path != want {
			t.Errorf("%v: %s; want %s", lib, path, want)
		}
		open(t, path)
	}
}

// HiGHS must not wait for the hundred libraries of CP-SAT.
func TestHiGHSIsUnpackedAlone(t *testing.T) {
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	t.Setenv("HOME", t.TempDir())
	path, err := inCache(context.Background(), HiGHS, Pins[0], os.DirFS(realBundles()))
	if err != nil {
		t.Fatal(err)
	}
	entries, err := os.ReadDir(filepath.Dir(path))
	if err != nil || len(entries) != 1 {
		t.Errorf("%d files, %v; want the one", len(entries), err)
	}
}

func TestDefaultIsThereForTests(t *testing.T) {
	t.Setenv(EnvFolder, "")
	for _, lib := range []Library{HiGHS, CPSAT} {
		path, err := Locate(context.Background(), lib, "")
		if err != nil {
			t.Fatal(err)
		}
		if !filepath.IsAbs(path) {
			t.Errorf("%s: not absolute", path)
		}
		open(t, path)
	}
}

func TestFolderOfTheUser(t *testing.T) {
	file := HiGHS.FileName(runtime.GOOS)
	for _, place := range places {
		folder := t.TempDir()
		want := filepath.Join(folder, place, file)
		if err := os.MkdirAll(filepath.Dir(want), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(want, []byte("the user's own"), 0o644); err != nil {
			t.Fatal(err)
		}
		if got, err := Locate(context.Background(), HiGHS, folder); err != nil || got != want {
			t.Errorf("%s: %s, %v; want %s", place, got, err, want)
		}
		t.Setenv(EnvFolder, folder)
		if got, err := Locate(context.Background(), HiGHS, ""); err != nil || got != want {
			t.Errorf("%s by environment: %s, %v; want %s", place, got, err, want)
		}
	}
}

// The official libhighs asks the loader to look in the current folder; see openRuntime.
func TestNothingIsLoadedFromTheCurrentFolder(t *testing.T) {
	if runtime.GOOS != "linux" {
		return // the fault is in the Linux build of the library
	}
	t.Setenv(EnvFolder, "")
	path, err := Locate(context.Background(), HiGHS, "")
	if err != nil {
		t.Fatal(err)
	}
	// A file that is no library makes the loader fail if it looks at it at all.
	trap := t.TempDir()
	for _, name := range []string{"libstdc++.so.6", "libgcc_s.so.1", "libm.so.6"} {
		if err := os.WriteFile(filepath.Join(trap, name), []byte("not a library"), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	t.Chdir(trap)
	open(t, path)
}

// A folder that was named is the only one: falling back would hide a slip of the pen.
func TestFolderWithoutTheLibrary(t *testing.T) {
	empty := t.TempDir()
	_, err := Locate(context.Background(), CPSAT, empty)
	oneLine(t, err, "no CP-SAT library", CPSAT.FileName(runtime.GOOS), Release, "not in "+empty, EnvFolder)
	if !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("%v: want ErrNotExist", err)
	}
	gone := filepath.Join(empty, "gone\nfolder")
	_, err = Locate(context.Background(), HiGHS, gone)
	oneLine(t, err, "no HiGHS library", "gone", EnvFolder)
	file := filepath.Join(empty, "file")
	if err := os.WriteFile(file, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	_, err = Locate(context.Background(), HiGHS, file)
	oneLine(t, err, file+" is not a folder")
}

// unwritable is a path nobody can make a folder at, root neither.
func unwritable(t *testing.T) string {
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	return filepath.Join(file, "below")
}

// cacheIn makes dir the parent of the user's cache on every platform; on macOS the cache
// is HOME/Library/Caches.
func cacheIn(t *testing.T, dir string) {
	t.Setenv("XDG_CACHE_HOME", dir)
	t.Setenv("HOME", dir)
}

func TestCacheThatCannotBeWritten(t *testing.T) {
	tmp := t.TempDir()
	t.Setenv("TMPDIR", tmp)
	cacheIn(t, unwritable(t))
	files := small(t, "highs")
	path, err := inCache(context.Background(), HiGHS, Pins[0], files)
	if err != nil || !strings.HasPrefix(path, filepath.Join(tmp, "primaprova-")) {
		t.Errorf("%s, %v; want it below the temporary folder", path, err)
	}
	cacheIn(t, "")
	path, err = inCache(context.Background(), HiGHS, Pins[0], files)
	if err != nil || !strings.HasPrefix(path, filepath.Join(tmp, "primaprova-")) {
		t.Errorf("without HOME: %s, %v; want it below the temporary folder", path, err)
	}
	t.Setenv("TMPDIR", unwritable(t))
	_, err = inCache(context.Background(), HiGHS, Pins[0], files)
	oneLine(t, err, "no HiGHS library", "the user's cache", "cannot unpack into", "XDG_CACHE_HOME", EnvFolder)
}

// A sound cache serves although it can no longer be written.
func TestCacheThatIsReadOnly(t *testing.T) {
	dir := t.TempDir()
	cacheIn(t, dir)
	files := small(t, "highs")
	want, err := inCache(context.Background(), HiGHS, Pins[0], files)
	if err != nil {
		t.Fatal(err)
	}
	chmod := func(mode fs.FileMode) {
		for at := filepath.Dir(want); at != dir; at = filepath.Dir(at) {
			if err := os.Chmod(at, mode); err != nil {
				t.Fatal(err)
			}
		}
	}
	chmod(0o500)
	defer chmod(0o700)
	if got, err := inCache(context.Background(), HiGHS, Pins[0], files); err != nil || got != want {
		t.Errorf("%s, %v; want %s", got, err, want)
	}
}

func TestUnsafeCacheIsRefused(t *testing.T) {
	t.Setenv("TMPDIR", t.TempDir())
	dir := t.TempDir()
	cacheIn(t, dir)
	files := small(t, "highs")
	if _, err := inCache(context.Background(), HiGHS, Pins[0], files); err != nil {
		t.Fatal(err)
	}
	cache, err := os.UserCacheDir()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		dir  string
		mode fs.FileMode
		want string
	}{
		{cache, 0o777, "anybody can write to"},
		{filepath.Join(cache, "primaprova"), 0o770, "others can write to"},
		{filepath.Join(cache, "primaprova", Pins[0].Folder()), 0o702, "others can write to"},
	} {
		if err := os.Chmod(c.dir, c.mode); err != nil {
			t.Fatal(err)
		}
		_, err := inCache(context.Background(), HiGHS, Pins[0], files)
		oneLine(t, err, c.want, c.dir, "chmod")
		if !errors.Is(err, private.ErrOpen) {
			t.Errorf("%v: want private.ErrOpen", err)
		}
		if err := os.Chmod(c.dir, 0o700); err != nil {
			t.Fatal(err)
		}
	}
	// As common as harmless: the temporary folder's mode, and a group of one's own.
	for _, mode := range []fs.FileMode{0o777 | fs.ModeSticky, 0o775} {
		if err := os.Chmod(cache, mode); err != nil {
			t.Fatal(err)
		}
		if _, err := inCache(context.Background(), HiGHS, Pins[0], files); err != nil {
			t.Errorf("cache with mode %v: %v", mode, err)
		}
	}
}

func TestPins(t *testing.T) {
	for _, platform := range []string{"linux/amd64", "linux/arm64", "darwin/arm64", "darwin/amd64", "windows/amd64"} {
		if pin, err := PinFor(platform); err != nil || pin.Platform != platform {
			t.Errorf("%s: %v, %v", platform, pin, err)
		}
	}
	if _, err := PinFor("plan9/arm"); err == nil || !strings.Contains(err.Error(), "linux/amd64, linux/arm64, darwin/arm64, darwin/amd64, windows/amd64") {
		t.Errorf("plan9/arm: %v; want the platforms there are", err)
	}
	line := "linux/amd64 p ortools-1-x.whl " + strings.Repeat("a", 64)
	for text, want := range map[string]string{
		"":                                 "no wheel",
		"release 1\nlinux/amd64 p":         "pins.txt:2",
		line:                               "not of the release",
		"release 2\n" + line:               "pins.txt:2: wheel",
		"release 1\n" + line[:len(line)-1]: "64 hexadecimal digits",
	} {
		if _, _, err := parsePins(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v; want %q", text, err, want)
		}
	}
}

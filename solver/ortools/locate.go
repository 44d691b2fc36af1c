package ortools

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"primaprova/io/private"
)

// EnvFolder is the environment variable of the setting "engines".
const EnvFolder = "PRIMAPROVA_ENGINES"

// advice ends every error that a folder of the user's would cure.
const advice = "name a folder that holds OR-Tools with the setting engines (" + EnvFolder + ")"

// Locate gives the absolute path of the library's own file, with all it needs in place
// beside it. Folder is the setting "engines", or "" for where the libraries are by
// default; an empty folder also lets EnvFolder speak, for tests and small programs that
// read no settings. The first call on a machine may unpack (HiGHS well under a second,
// CP-SAT about one); ctx stops that between files. The error is an *AbsentError unless
// ctx ended.
func Locate(ctx context.Context, lib Library, folder string) (string, error) {
	if err := openRuntime(); err != nil {
		return "", &AbsentError{Library: lib, Looked: []string{err.Error()}, Err: err, Advice: runtimeAdvice}
	}
	if folder == "" {
		folder = os.Getenv(EnvFolder)
	}
	if folder != "" {
		return inFolder(lib, folder, runtime.GOOS)
	}
	pin, err := PinFor(ThisPlatform)
	if err != nil {
		return "", &AbsentError{Library: lib, Looked: []string{err.Error()}, Advice: advice, Err: err}
	}
	if embedded != nil {
		return inCache(ctx, lib, pin, embedded)
	}
	return inSources(lib)
}

// places are where a folder may hold a library: laid out as the wheel (or as the
// site-packages folder of a Python with ortools), as the release's C++ archive, or bare.
var places = []string{"ortools/.libs", "lib", "."}

func inFolder(lib Library, folder, goos string) (string, error) {
	absent := &AbsentError{Library: lib, File: lib.FileName(goos),
		Advice: "the setting engines (" + EnvFolder + ") must name a folder that holds it, or not be given"}
	if info, err := os.Stat(folder); err != nil {
		absent.Looked, absent.Err = []string{folder + ": " + errors.Unwrap(err).Error()}, err
		return "", absent
	} else if !info.IsDir() {
		absent.Looked, absent.Err = []string{folder + " is not a folder"}, fs.ErrInvalid
		return "", absent
	}
	for _, place := range places {
		name := filepath.Join(folder, place, absent.File)
		if info, err := os.Stat(name); err == nil && info.Mode().IsRegular() {
			return filepath.Abs(name)
		}
	}
	absent.Looked = []string{"not in " + folder + " nor in its folders ortools/.libs and lib"}
	absent.Err = fs.ErrNotExist
	return "", absent
}

// inCache unpacks into the user's cache, or where that cannot be written into a folder of
// the user's below the temporary one. An unsafe cache is not passed over in silence.
func inCache(ctx context.Context, lib Library, pin Pin, from fs.FS) (string, error) {
	absent := &AbsentError{Library: lib, File: lib.FileName(runtime.GOOS),
		Advice: cacheAdvice() + " to a folder of yours with 80 MB free, or " + advice}
	parents := []string{}
	if dir, err := os.UserCacheDir(); err != nil {
		absent.Looked, absent.Err = append(absent.Looked, "the user's cache: "+err.Error()), err
	} else {
		parents = append(parents, filepath.Join(dir, "primaprova"))
	}
	parents = append(parents, filepath.Join(os.TempDir(), "primaprova"+private.Suffix()))
	for _, parent := range parents {
		folder := filepath.Join(parent, pin.Folder())
		err := loads(parent)
		if err == nil {
			err = ensureAll(ctx, lib, from, parent, folder)
		}
		if err == nil {
			return filepath.Join(folder, "ortools", ".libs", absent.File), nil
		}
		if ctx.Err() != nil {
			return "", err
		}
		absent.Looked, absent.Err = append(absent.Looked, "cannot unpack into "+folder+": "+err.Error()), err
		if errors.Is(err, private.ErrOpen) {
			break
		}
	}
	return "", absent
}

// cacheAdvice says what names the user's cache.
func cacheAdvice() string {
	if runtime.GOOS == "windows" {
		return "set LocalAppData"
	}
	return "set XDG_CACHE_HOME or HOME"
}

func ensureAll(ctx context.Context, lib Library, from fs.FS, parent, folder string) error {
	if err := os.MkdirAll(filepath.Dir(parent), 0o700); err != nil {
		return err
	}
	// The folder ours is made in is commonly the system's or the user's own cache.
	if err := private.NotForAll(filepath.Dir(parent)); err != nil {
		return err
	}
	if err := private.Folder(parent); err != nil {
		return err
	}
	for _, name := range lib.bundles() {
		if err := (Bundle{Files: from, Name: name}).Ensure(ctx, folder); err != nil {
			return err
		}
	}
	return nil
}

// inSources serves go test and go run. It goes by where this very file was compiled, not
// by the folder the program was started in: a stranger's folder must never lend libraries.
func inSources(lib Library) (string, error) {
	absent := &AbsentError{Library: lib, File: lib.FileName(runtime.GOOS), Err: fs.ErrNotExist}
	_, here, _, ok := runtime.Caller(0)
	if !ok || !filepath.IsAbs(here) {
		absent.Looked = []string{"this program was built without its engines, and with -trimpath"}
		absent.Advice = "build it with \"make bin/primaprova\", or " + advice
		return "", absent
	}
	folder := filepath.Join(filepath.Dir(here), "..", "..", ".deps", "engines")
	if path, err := inFolder(lib, folder, runtime.GOOS); err == nil {
		return path, nil
	}
	absent.Looked = []string{"this program was built without its engines, and " + folder + " does not hold it"}
	absent.Advice = "run \"make deps\" or build with \"make bin/primaprova\", or " + advice
	return "", absent
}

// An AbsentError says that a library cannot be had. Its text is one line: what was
// looked for, where, what was found there, and what to do.
type AbsentError struct {
	Library Library
	File    string   // the file looked for; empty where the platform has none
	Looked  []string // places, each with what is wrong there
	Advice  string
	Err     error // the last cause, for errors.Is
}

func (e *AbsentError) Error() string {
	var b strings.Builder
	b.WriteString("no " + e.Library.String() + " library")
	if e.File != "" {
		b.WriteString(" (" + e.File + " of OR-Tools " + Release + ")")
	}
	b.WriteString(": " + strings.Join(e.Looked, "; "))
	if e.Advice != "" {
		b.WriteString("; " + e.Advice)
	}
	// The causes come from the system and may hold line breaks in a file name.
	return strings.NewReplacer("\n", " ", "\r", " ").Replace(b.String())
}

func (e *AbsentError) Unwrap() error { return e.Err }

// A Library is one of the two engines.
type Library int

const (
	HiGHS Library = iota // linear and integer programs; needs only the C++ run-time library
	CPSAT                // constraint programs; needs some hundred libraries beside it
)

func (l Library) String() string {
	switch l {
	case HiGHS:
		return "HiGHS"
	case CPSAT:
		return "CP-SAT"
	}
	return fmt.Sprintf("Library(%d)", int(l))
}

// bundles names the bundles whose files the library needs, itself included. HiGHS is
// among the libraries that libortools is linked against.
func (l Library) bundles() []string {
	if l == HiGHS {
		return []string{"highs"}
	}
	return []string{"highs", "cpsat"}
}

// FileName is the name of the library's own file on goos.
func (l Library) FileName(goos string) string {
	name, major := "ortools", "9"
	if l == HiGHS {
		name, major = "highs", "1"
	}
	switch goos {
	case "darwin":
		return "lib" + name + "." + major + ".dylib"
	case "windows":
		return name + ".dll"
	}
	return "lib" + name + ".so." + major
}

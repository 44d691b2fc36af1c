package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"
	"syscall"
	"time"

	"primaprova/io/disk"
	"primaprova/io/planfile"
	"primaprova/io/seasonfile"
	"primaprova/io/webcal"
	"primaprova/model"
)

// beside gives a file or folder beside a season file, by what its name ends in in
// place of the season's ending.
func beside(season, ending string) string {
	return strings.TrimSuffix(season, filepath.Ext(season)) + ending
}

// planPath gives the plan that stands beside a season file: season.yaml has
// season.plan.json.
func planPath(season string) string {
	return beside(season, ".plan.json")
}

// seasonName gives the season file a command works on: its argument, or the
// setting when there is none.
func (a *app) seasonName(args []string) string {
	if len(args) > 0 {
		return args[0]
	}
	return a.set.get("season")
}

// seasonAmong takes the season file out of a command's arguments, wherever it stands;
// where none is named it is that of the settings.
func (a *app) seasonAmong(args []string) (path string, rest []string) {
	if i := slices.IndexFunc(args, hasSeasonsName); i >= 0 {
		return args[i], slices.Delete(slices.Clone(args), i, i+1)
	}
	if len(args) > 0 && isSeason(args[0]) {
		return args[0], args[1:]
	}
	return a.set.get("season"), args
}

func hasSeasonsName(arg string) bool {
	return strings.HasSuffix(arg, ".yaml") || strings.HasSuffix(arg, ".yml")
}

func isSeason(arg string) bool {
	if hasSeasonsName(arg) {
		return true
	}
	info, err := os.Stat(arg)
	return err == nil && !info.IsDir()
}

// season reads a season file. Faults end the command; warnings are left to
// whoever wants to say them.
func (a *app) season(path string) (*seasonfile.File, error) {
	return a.seasonFrom(path, a.sources(path))
}

func (a *app) seasonFrom(path string, from seasonfile.Sources) (*seasonfile.File, error) {
	// Other people's files may be large: while they are read memory is given back sooner.
	defer debug.SetGCPercent(debug.SetGCPercent(30))
	f, err := seasonfile.ReadFrom(path, from)
	if err == nil {
		return f, nil
	}
	var faults seasonfile.Errors
	if !errors.As(err, &faults) {
		return nil, fileTrouble(err)
	}
	t := &trouble{code: exitInput, lines: []string{faults.Error()}}
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		t.next = "new " + quoted(path)
	}
	return nil, t
}

// standing reads the plan beside a season file and says when it is older than
// the season.
func (a *app) standing(f *seasonfile.File) (*model.Plan, error) {
	path := planPath(f.Path)
	p, err := planfile.Read(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, wrong("%s: there is no plan yet", path).then("plan %s", quoted(f.Path))
	}
	if err != nil {
		t := fileTrouble(err)
		t.code = exitInput
		return nil, t.then("plan --anew %s", quoted(f.Path))
	}
	if p.Season.SHA256 != f.SHA256 {
		a.say.aside("%s: has changed since it was planned; what follows is the old plan.", f.Path)
		a.say.next("plan %s", quoted(f.Path))
	}
	return p, nil
}

// alone does something while nobody else writes the season's files.
func (a *app) alone(season string, do func() error) error {
	if info, err := os.Stat(filepath.Dir(season)); err != nil || !info.IsDir() {
		return do() // which says what is wrong with the name
	}
	release, err := disk.Hold(season)
	if errors.Is(err, disk.ErrBusy) {
		return &trouble{code: exitInternal, err: err}
	}
	if err != nil {
		return cannotWrite(season, err)
	}
	defer release()
	return do()
}

// cannotWrite says why a file was not written, under the name that the player
// knows it by.
func cannotWrite(path string, err error) error {
	t := fileTrouble(err)
	if errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EDQUOT) {
		t.err = fmt.Errorf("%s: was not written, there is no room left on the disk; what was there before stands", path)
		return t
	}
	s := ": " + err.Error()
	t.err = fmt.Errorf("%s: cannot be written: %s", path, s[strings.LastIndex(s, ": ")+len(": "):])
	return t
}

// mostSmall is the largest file of a few lines that is read.
const mostSmall = 64 << 10

// readSmall reads a file that a player writes by hand in a few lines.
func readSmall(path string) ([]byte, error) {
	info, err := os.Stat(path) // before it is opened: a pipe would wait for a writer that may never come
	switch {
	case err != nil:
		return nil, err
	case info.IsDir():
		return nil, &fs.PathError{Op: "read", Path: path, Err: syscall.EISDIR}
	case !info.Mode().IsRegular():
		return nil, errors.New("it is not a regular file")
	case info.Size() > mostSmall:
		return nil, fmt.Errorf("it is larger than %d KiB", mostSmall>>10)
	}
	return os.ReadFile(path)
}

// reason is what the system says, without the operation and the path.
func reason(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}

// quoted writes a file name so that a shell takes it as one word.
func quoted(name string) string {
	if name != "" && !strings.ContainsFunc(name, func(r rune) bool {
		return !strings.ContainsRune(plainly, r) && (r < '0' || '9' < r && r < 'A' || 'Z' < r && r < 'a' || 'z' < r && r < 0x80)
	}) {
		return name
	}
	return "'" + strings.ReplaceAll(name, "'", quoteInQuotes) + "'"
}

// calendarsPath gives the folder of copies of other people's calendars:
// season.yaml has season.calendars.
func calendarsPath(season string) string {
	return beside(season, ".calendars")
}

func copies(season string) *webcal.Store {
	return webcal.Open(calendarsPath(season), seasonfile.MostCalendarBytes, nil)
}

// sources are other people's calendars for who plans: those at addresses are
// asked for.
func (a *app) sources(season string) seasonfile.Sources {
	store := copies(season)
	a.kept = store
	return seasonfile.Sources{Kept: store.Kept, Fetch: func(address string) ([]byte, error) {
		ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
		defer cancel()
		return store.Fetch(ctx, address)
	}}
}

// standingSeason reads a season for who works from the plan that stands: neither
// a network nor somebody else's calendar stands in the way. What was taken
// instead is said.
func (a *app) standingSeason(path string) (*seasonfile.File, error) {
	f, err := a.seasonFrom(path, seasonfile.Sources{Kept: copies(path).Kept, Standing: true})
	if err == nil && len(f.StandIns) > 0 {
		a.say.aside("%s", seasonfile.Text(f.StandIns))
	}
	return f, err
}

// keepCopies keeps the calendars that a season was read from, those at addresses
// alone where only they are wanted. Where that fails the season is no worse.
func (a *app) keepCopies(f *seasonfile.File, addresses bool) {
	if a.kept == nil {
		return
	}
	for name, b := range f.Calendars {
		if strings.HasPrefix(name, "https://") || !addresses {
			if err := a.kept.Keep(name, b); err != nil {
				a.say.aside("%s: %v", calendarsPath(f.Path), reason(err))
				return
			}
		}
	}
}

package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"primaprova/io/planfile"
	"primaprova/io/seasonfile"
	"primaprova/model"
)

// planPath gives the plan that stands beside a season file: season.yaml has
// season.plan.json.
func planPath(season string) string {
	return strings.TrimSuffix(season, filepath.Ext(season)) + ".plan.json"
}

// seasonName gives the season file a command works on: its argument, or the
// setting when there is none.
func (a *app) seasonName(args []string) string {
	if len(args) > 0 {
		return args[0]
	}
	return a.set.get("season")
}

// season reads a season file. Faults end the command; warnings are left to
// whoever wants to say them.
func (a *app) season(path string) (*seasonfile.File, error) {
	f, err := seasonfile.Read(path)
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
		return nil, t.then("plan %s", quoted(f.Path))
	}
	if p.Season.SHA256 != f.SHA256 {
		a.say.aside("%s: has changed since it was planned; what follows is the old plan.", f.Path)
		a.say.next("plan %s", quoted(f.Path))
	}
	return p, nil
}

// quoted writes a file name so that a shell takes it as one word.
func quoted(name string) string {
	if name != "" && !strings.ContainsFunc(name, func(r rune) bool {
		return !strings.ContainsRune("_-./,:=@%+", r) && (r < '0' || '9' < r && r < 'A' || 'Z' < r && r < 'a' || 'z' < r && r < 0x80)
	}) {
		return name
	}
	return "'" + strings.ReplaceAll(name, "'", `'\''`) + "'"
}

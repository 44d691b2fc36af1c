package main

import (
	"os"
	"path/filepath"

	"primaprova/io/planfile"
	"primaprova/io/seasonfile"
	"primaprova/solver"
)

const starts = 20

// start measures whole processes of bin/primaprova, from the command to its end.
func (b *bench) start() {
	const group = "start"
	season, err := b.planned()
	if err != nil {
		b.add(row{group: group, what: "show", note: "FAILED: " + err.Error()})
		return
	}
	on := "2027-01-20"
	for _, c := range []struct {
		what, note string
		times      int
		args       []string
	}{
		{"show, a day", "", starts, []string{"show", season, "--on", on}},
		{"show load, the season", "", starts, []string{"show", "load", season}},
		{"check", "", starts, []string{"check", season}},
		{"plan, cut short at once", "to the first audited plan, its file written", 5, []string{"plan", season, "--anew", "--limit", "1ms"}},
	} {
		b.doing("start: %s", c.what)
		r, ok := b.processes(group, c.what, c.times, c.args, "PRIMAPROVA_TODAY=2027-01-10")
		if ok && c.note != "" {
			r.note += "; " + c.note
		}
		b.add(r)
	}
}

// planned puts the season with a first plan into the temporary folder.
func (b *bench) planned() (season string, err error) {
	raw, err := os.ReadFile(b.demo)
	if err != nil {
		return "", err
	}
	season = filepath.Join(b.folder, "season.yaml")
	if err := os.WriteFile(season, raw, 0o600); err != nil {
		return "", err
	}
	f, err := seasonfile.Read(season)
	if err != nil {
		return "", err
	}
	p, err := solver.Greedy(f.Season, solver.Options{})
	if err != nil {
		return "", err
	}
	p.Season.File, p.Season.SHA256 = "season.yaml", f.SHA256
	return season, planfile.Write(filepath.Join(b.folder, "season.plan.json"), p)
}

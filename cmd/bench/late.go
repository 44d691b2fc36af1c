package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"time"

	"primaprova/io/planfile"
	"primaprova/io/seasonfile"
	"primaprova/model"
	"primaprova/solver"
)

// late lets one part of the season arrive 14 and 10 days before its first
// rehearsal in place of five weeks.
func (b *bench) late() {
	for _, days := range []int{14, 10} {
		what := fmt.Sprintf("a part comes %d days before its first rehearsal", days)
		b.doing("late: %s", what)
		r := b.child(task{Do: "late", File: b.demo, Work: b.work, Days: days, Folder: b.folder})
		b.add(r.row("late", what+": planned again, hours included"))
		if r.Failure == "" {
			whole, _ := b.processes("late", what+": the whole command, with --try", lateRuns, r.Command)
			b.add(whole)
		}
	}
	for _, days := range []int{14, 10} {
		b.lateInTurn(days)
	}
}

// lateInTurn lets the first part of one programme after the other come late.
func (b *bench) lateInTurn(days int) {
	s, err := (&task{File: b.demo}).season()
	if err != nil {
		return // the rows before have said so
	}
	what := fmt.Sprintf("the first part of each programme in turn comes %d days before: ", days)
	var all []report
	failed := 0
	for i := range s.Programmes {
		if b.ctx.Err() != nil {
			return
		}
		if p := &s.Programmes[i]; p.FirstRehearsal()-model.Date(days) <= p.Parts[0].Arrives {
			continue // that would not be late
		}
		b.doing("late: %sprogramme %d of %d", what, i+1, len(s.Programmes))
		r := b.child(task{Do: "late", File: b.demo, Work: b.work, Days: days, Folder: b.folder, Turn: i + 1})
		if r.Failure != "" {
			failed++
			b.add(r.row("late", fmt.Sprintf("%sprogramme %d", what, i+1)))
			continue
		}
		all = append(all, r)
	}
	b.summed("late", what, all, failed)
}

// lateRuns is how many whole processes are measured.
const lateRuns = 3

// late plans a season in which a part comes early, lets the player hear on that
// day that it comes later, and plans again. Everything before has been done as
// planned. With a folder, it leaves the season and the plan that stands there, and
// tells the command that does the same. In turn, the season's own dates are the
// early ones, and one plan stands in the folder for all.
func late(t *task) (report, error) {
	s, err := t.season()
	if err != nil {
		return report{}, err
	}
	lib, err := highsLibrary()
	if err != nil {
		return report{}, err
	}
	const ordinary = 35
	i := len(s.Programmes) / 2
	before, part := arriving(s, i, ordinary)
	if t.Turn > 0 {
		i = t.Turn - 1
		before, part = s, model.PartName(s.Programmes[i].ID, s.Programmes[i].Parts[0].ID)
	}
	hours, err := cpsatLibrary()
	if err != nil {
		return report{}, err
	}
	plan := func() (*model.Plan, error) {
		return solver.Solve(context.Background(), before, solver.Options{Engine: lib, Tolerance: model.DefaultTolerance, Days: hours, Work: t.Work})
	}
	var standing *model.Plan
	if t.Turn > 0 {
		standing, err = kept(filepath.Join(t.Folder, "season.plan.json"), plan)
	} else {
		standing, err = plan()
	}
	if err != nil {
		return report{}, err
	}
	after, _ := arriving(s, i, t.Days)
	today := max(s.From, before.Programmes[i].Parts[0].Arrives)
	h, _ := after.Replay(nil, standing, model.Replaying{Today: today, TakeAsDone: true})
	o := solver.Options{Engine: lib, Tolerance: model.DefaultTolerance, Days: hours, Work: t.Work, History: h, Standing: standing}
	at := time.Now()
	if _, err := solver.Greedy(after, o); err != nil {
		return report{}, err
	}
	first, cpu := time.Since(at).Seconds(), solver.Processor()
	at = time.Now()
	p, err := solver.Solve(context.Background(), after, o)
	if err != nil {
		return report{}, err
	}
	r, err := describe(p, at)
	r.First, r.CPU = first, solver.Processor()-cpu
	moved, all := moved(standing, p, today, part)
	r.Moved = float64(moved) / float64(max(1, all))
	r.Note = fmt.Sprintf("%s; %d of %d future sessions outside the part moved, %.1f%%", part, moved, all, 100*r.Moved)
	if t.Folder != "" && t.Turn == 0 {
		r.Command, err = t.standing(standing, part, before.Programmes[i].Parts[0].Arrives, after.Programmes[i].Parts[0].Arrives, today)
	}
	return r, err
}

// kept gives the plan that a file holds, or makes it and keeps it there.
func kept(path string, plan func() (*model.Plan, error)) (*model.Plan, error) {
	if p, err := planfile.Read(path); err == nil {
		return p, nil
	}
	p, err := plan()
	if err != nil {
		return nil, err
	}
	p.Season.File = filepath.Base(path)
	return p, planfile.Write(path, p)
}

// standing writes the season in which a part comes on a date, with the plan of
// it, and gives the arguments with which the program hears on a day that the
// part comes on another date.
func (t *task) standing(p *model.Plan, part string, was, is, today model.Date) ([]string, error) {
	f, err := seasonfile.Read(t.File)
	if err != nil {
		return nil, err
	}
	if f, err = f.SetArrival(part, was); err != nil {
		return nil, err
	}
	season := filepath.Join(t.Folder, "late.yaml")
	if err := os.WriteFile(season, f.Source, 0o600); err != nil {
		return nil, err
	}
	p.Season.File, p.Season.SHA256, p.Calendar = filepath.Base(season), f.SHA256, f.Season.CalendarKey()
	if err := planfile.Write(filepath.Join(t.Folder, "late.plan.json"), p); err != nil {
		return nil, err
	}
	return []string{"late", season, part, "--arrives", is.String(), "--try", "--from-today",
		"--today", today.String(), "--budget", strconv.FormatFloat(100*t.Work, 'f', -1, 64)}, nil
}

// arriving gives a season in which the first part of a programme comes so many
// days before its first rehearsal, and the part's name.
func arriving(s *model.Season, programme, days int) (*model.Season, string) {
	out := *s
	out.Programmes = slices.Clone(s.Programmes)
	p := &out.Programmes[programme]
	p.Parts = slices.Clone(p.Parts)
	p.Parts[0].Arrives = max(s.From, p.FirstRehearsal()-model.Date(days))
	return &out, model.PartName(p.ID, p.Parts[0].ID)
}

// moved counts, of the standing plan's sessions from a day on, those of other
// parts, and those of them that another plan has on another day or not at all.
// Warm-ups follow the rest.
func moved(standing, now *model.Plan, from model.Date, part string) (moved, all int) {
	day := map[string]model.Date{}
	for _, v := range now.Sessions {
		day[v.ID] = v.Date
	}
	for _, v := range standing.Sessions {
		if v.Date < from || v.Stage == model.WarmUpStage || v.Part == part {
			continue
		}
		all++
		if day[v.ID] != v.Date {
			moved++
		}
	}
	return moved, all
}

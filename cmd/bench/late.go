package main

import (
	"context"
	"fmt"
	"slices"
	"time"

	"primaprova/model"
	"primaprova/solver"
)

// late lets one part of the season arrive 14 and 10 days before its first
// rehearsal in place of five weeks.
func (b *bench) late() {
	for _, days := range []int{14, 10} {
		what := fmt.Sprintf("a part comes %d days before its first rehearsal", days)
		b.doing("late: %s", what)
		r := b.child(task{Do: "late", File: b.demo, Work: b.work, Days: days})
		b.add(r.row("late", what))
	}
}

// late plans a season in which a part comes five weeks before its first
// rehearsal, lets the player hear on that day that it comes later, and plans
// again. Everything before has been done as planned.
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
	standing, err := solver.Solve(context.Background(), before, solver.Options{Engine: lib, Work: t.Work})
	if err != nil {
		return report{}, err
	}
	after, _ := arriving(s, i, t.Days)
	today := max(s.From, before.Programmes[i].Parts[0].Arrives)
	h, _ := after.Replay(nil, standing, model.Replaying{Today: today, TakeAsDone: true})
	o := solver.Options{Engine: lib, Work: t.Work, History: h, Standing: standing}
	at := time.Now()
	if _, err := solver.Greedy(after, o); err != nil {
		return report{}, err
	}
	first, cpu := time.Since(at).Seconds(), processorSeconds()
	at = time.Now()
	p, err := solver.Solve(context.Background(), after, o)
	if err != nil {
		return report{}, err
	}
	r, err := describe(p, at)
	r.First, r.CPU = first, processorSeconds()-cpu
	moved, all := moved(standing, p, today, part)
	r.Note = fmt.Sprintf("%s; %d of %d future sessions outside the part moved, %.1f%%", part, moved, all, 100*float64(moved)/float64(max(1, all)))
	return r, err
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

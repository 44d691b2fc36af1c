package chance

import (
	"cmp"
	"math"
	"slices"

	"primaprova/model"
)

// Raise is one thing that would make a part surer, and by how much. Nothing is
// planned again for it: it says where looking is worth while.
type Raise struct {
	What   RaiseKind
	By     int           // days, for Sooner
	More   model.Minutes // a day, for Longer
	Days   model.Range   // for Longer: the days that would be longer, first and last
	Count  int           // for Longer: how many of them are
	Ready  float64       // the chance with it
	Gain   float64       // by how much that is higher; may be below 0
	Error  float64       // standard error of Gain
	Change Change        // what to give to Of for the same
}

// RaiseKind says what would be otherwise.
type RaiseKind int

// The kinds of raise. The last two are no advice: they say how much of the risk
// is luck with the days and how much is luck with the estimates.
const (
	Longer  RaiseKind = iota // so many minutes more on the days that count
	Sooner                   // everything of the part so many days sooner
	NoDay                    // no day is lost
	AsGuess                  // everything takes its minutes
)

// Raises says what would make a part surer, for whoever explains: `more`
// minutes on the 1, 3, 7 and 14 last days of playing before it is due, its
// sessions taken up one or two days sooner, no day lost, everything taking its
// minutes. With more 0 the first is left away; limit gives the most that a day
// may ever be made longer by (nil: no limit). All are played with the same luck,
// so that Gain is surer than either chance. Those that gain most come first.
func Raises(s *model.Season, h *model.History, p *model.Plan, part string, more model.Minutes, limit func(model.Date) model.Minutes, o Options) []Raise {
	o.Change = Change{}
	now, found := readiness(s, h, p, part, o)
	if !found {
		return nil
	}
	var out []Raise
	try := func(r Raise) {
		o.Change = r.Change
		with, _ := readiness(s, h, p, part, o)
		n := float64(len(now))
		up, down := 0.0, 0.0
		for i := range now {
			switch {
			case with[i] && !now[i]:
				up++
			case !with[i] && now[i]:
				down++
			}
			if with[i] {
				r.Ready += 1 / n
			}
		}
		r.Gain = (up - down) / n
		// Of pairs: the variance of a difference that is −1, 0 or 1.
		r.Error = math.Sqrt(max(0, (up+down)/n-r.Gain*r.Gain) / n)
		out = append(out, r)
	}
	days := playingDays(s, h, part)
	for i, count := range []int{1, 3, 7, 14} {
		if more <= 0 || len(days) == 0 || i > 0 && len(days) < count {
			break
		}
		last := days[len(days)-min(count, len(days)):]
		r := Raise{What: Longer, More: more, Days: model.Range{From: last[0], To: last[len(last)-1]}, Change: Change{More: map[model.Date]model.Minutes{}}}
		for _, d := range last {
			m := more
			if limit != nil {
				m = min(m, limit(d))
			}
			if m > 0 {
				r.Change.More[d] = m
				r.Count++
			}
		}
		if r.Count > 0 {
			try(r)
		}
	}
	for by := 1; by <= 2; by++ {
		try(Raise{What: Sooner, By: by, Change: Change{Earlier: map[string]int{part: by}}})
	}
	try(Raise{What: NoDay, Change: Change{NoLost: true}})
	try(Raise{What: AsGuess, Change: Change{Exact: true}})
	slices.SortStableFunc(out, func(a, b Raise) int { return cmp.Compare(b.Gain, a.Gain) })
	return out
}

// readiness tells run by run whether a part is ready.
func readiness(s *model.Season, h *model.History, p *model.Plan, part string, o Options) (ready []bool, found bool) {
	t := newTable(s, h, p, &o)
	i := slices.IndexFunc(t.parts, func(q partOf) bool { return q.name == part })
	if i < 0 || len(t.parts[i].played) == 0 {
		return nil, false
	}
	runs := o.runs()
	ready = make([]bool, runs)
	share(runs, func(from, to int) {
		g := newGame(t)
		for run := from; run < to; run++ {
			g.draw(uint64(run))
			g.play(min(t.parts[i].last, t.days)) // what comes after makes no difference
			ready[run] = true
			for k := range g.tasks {
				if v := &g.tasks[k]; v.part == i && v.counts && g.done[k] == none {
					ready[run] = false
					break
				}
			}
		}
	})
	return ready, true
}

// playingDays gives the days ahead on which a part may be played.
func playingDays(s *model.Season, h *model.History, part string) []model.Date {
	var out []model.Date
	for _, w := range s.Work(h) {
		if w.Name != part {
			continue
		}
		for d := max(s.Today(h), w.Window.From); d <= w.Window.To; d++ {
			if !s.RoomOn(d).Rest {
				out = append(out, d)
			}
		}
	}
	return out
}

package model

import (
	"cmp"
	"fmt"
	"slices"
)

// Supply is what a day has only so much of.
type Supply int

// The supplies of a day.
const (
	PlayingTime   Supply = iota // minutes of planned playing
	ListeningTime               // minutes of planned listening
	VisitCount                  // passages visited
)

// Stretch is a run of days with the work that has to be done in it if nothing
// shall be left out, against what its days have. Need above Has proves that
// not everything can be placed.
type Stretch struct {
	Days       Range
	Supply     Supply
	Need, Has  int // minutes, or visits
	Shares     []Share
	Programmes []string // whose first rehearsal finds its tightest stretch here
}

// Share is what one part needs of a stretch.
type Share struct {
	Part string // programme/part
	Need int
}

// Short gives what is too much.
func (t *Stretch) Short() int { return max(0, t.Need-t.Has) }

// Stretches gives, for each supply, the tightest stretch of each programme
// (see demandTest) that is short, and of playing time the ones that are not
// too; by their first day. Nothing is solved: it takes days² + sessions steps.
// The history may be nil.
func (s *Season) Stretches(h *History) []Stretch {
	slots := s.Slots(h)
	var out []Stretch
	for _, supply := range []Supply{PlayingTime, ListeningTime, VisitCount} {
		for _, t := range s.stretches(slots, supply, h) {
			if supply == PlayingTime || t.Short() > 0 {
				out = append(out, t)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Stretch) int { return cmp.Compare(a.Days.From, b.Days.From) })
	return out
}

// Roomless gives the wanted sessions for which no day is left even if no other
// part were planned, in the order of the season file. The history may be nil.
func (s *Season) Roomless(h *History) []Slot {
	return slices.DeleteFunc(s.Slots(h), func(t Slot) bool { return t.First <= t.Last })
}

func (s *Season) stretches(slots []Slot, supply Supply, h *History) []Stretch {
	has := make([]Minutes, s.Days())
	for i, r := range s.rooms() {
		if h == nil || r.Date >= h.Today {
			has[i] = Minutes(supply.has(&r))
		}
	}
	groups, index := []string{}, map[string]int{}
	var jobs []job
	for i := range slots {
		t := &slots[i]
		use := supply.uses(&t.Wanted)
		if use == 0 || t.Last < t.First {
			continue
		}
		g, ok := index[t.Programme]
		if !ok {
			g = len(groups)
			index[t.Programme], groups = g, append(groups, t.Programme)
		}
		jobs = append(jobs, job{minutes: Minutes(use), first: int(t.First - s.From), last: int(t.Last - s.From), group: g})
	}
	var out []Stretch
	for g, x := range demandTest(jobs, has, len(groups), tighter) {
		days := Range{s.From + Date(x.first), s.From + Date(x.last)}
		if i := slices.IndexFunc(out, func(t Stretch) bool { return t.Days == days }); i >= 0 {
			out[i].Programmes = append(out[i].Programmes, groups[g])
			continue
		}
		out = append(out, Stretch{Days: days, Supply: supply, Need: int(x.need), Has: int(x.room),
			Shares: supply.shares(slots, days), Programmes: []string{groups[g]}})
	}
	return out
}

// tighter prefers what is short by more, else what is used up to a greater
// share; between equals what holds more work.
func tighter(a, b stretch) bool {
	x, y := a.need*max(1, b.room), b.need*max(1, a.room)
	if a.slack() < 0 || b.slack() < 0 {
		x, y = b.slack(), a.slack()
	}
	return x > y || x == y && a.need > b.need
}

// has gives what a day has.
func (u Supply) has(r *Room) int {
	switch u {
	case ListeningTime:
		return int(min(r.Listening, r.Held))
	case VisitCount:
		if r.Playing == 0 {
			return 0
		}
		return r.Passages
	}
	return int(min(r.Playing, max(0, r.Held-r.WarmUp)))
}

// uses gives what a session takes.
func (u Supply) uses(w *Wanted) int {
	switch {
	case u == PlayingTime && w.Stage.Playing(), u == ListeningTime && !w.Stage.Playing():
		return int(w.Minutes)
	case u == VisitCount && w.Stage == PassageStage:
		return 1
	}
	return 0
}

// shares gives what each part needs of a stretch, the most first.
func (u Supply) shares(slots []Slot, days Range) []Share {
	var out []Share
	for i := range slots {
		t := &slots[i]
		if t.Last < t.First || t.First < days.From || t.Last > days.To {
			continue
		}
		use := u.uses(&t.Wanted)
		if n := len(out); n > 0 && out[n-1].Part == t.Part {
			out[n-1].Need += use
		} else {
			out = append(out, Share{t.Part, use})
		}
	}
	out = slices.DeleteFunc(out, func(s Share) bool { return s.Need == 0 })
	slices.SortStableFunc(out, func(a, b Share) int { return cmp.Compare(b.Need, a.Need) })
	return out
}

// Amount writes so much of a supply: "75 min of playing", "3 visits".
func (u Supply) Amount(n int) string {
	switch {
	case u == PlayingTime:
		return fmt.Sprintf("%d min of playing", n)
	case u == ListeningTime:
		return fmt.Sprintf("%d min of listening", n)
	case n == 1:
		return "1 visit"
	}
	return fmt.Sprintf("%d visits", n)
}

// WithoutRest gives the runs of seven days and more, between the day the first
// part is there and the last service, of which none is free of playing: none
// without services on which nothing may be planned to be played. One day in
// seven is what DefaultLimits has a source for.
func (s *Season) WithoutRest() []Range {
	var first, last Date
	for i := range s.Programmes {
		p := &s.Programmes[i]
		for j := range p.Parts {
			if a := max(p.Parts[j].Arrives, s.From); first == 0 || a < first {
				first = a
			}
		}
		for _, v := range p.Services {
			last = max(last, min(v.Date, s.To))
		}
	}
	var out []Range
	run := Range{first, first - 1}
	end := func() {
		if run.Days() >= 7 {
			out = append(out, run)
		}
	}
	for d := first; d <= last && first != 0; d++ {
		if r := s.RoomOn(d); r.Services == 0 && r.Playing == 0 {
			end()
			run.From = d + 1
		}
		run.To = d
	}
	end()
	return out
}

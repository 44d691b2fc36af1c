package model

import (
	"cmp"
	"slices"
	"strings"
)

// DayWish is one of the things by which the hours of one day are judged once
// they keep the rules. They count strictly in their order, like the wishes of
// a season. All of them are common practice, no source, but for the rests that
// Limits speaks of.
type DayWish int

// The wishes of a day, highest first.
const (
	Whole   DayWish = iota // sessions that are broken up otherwise than Shape says, or by a time that is not free
	OnGrid                 // sessions that begin off the grid
	Before                 // planned playing in the last Lull minutes before a service
	Stays                  // minutes by which sessions begin elsewhere than they stood
	Cold                   // minutes between the end of the warm-up and the first playing after it
	OneWork                // changes of part within blocks, with OneWorkAtATime
	Strains                // times that two blocks running strain the same
	Aside                  // listening and recordings that cut the playing apart, or lie outside the hours for them
	Early                  // blocks before a passage's own, twice for hard ones, never for easy ones
	Ends                   // minute of the day at which the last session ends
	Changes                // changes of part within blocks, with FewChanges
	dayWishes
)

const (
	// Grid is what starts are multiples of, in minutes after midnight.
	Grid = 5
	// Lull is the time before a service in which nothing is to be played.
	Lull Minutes = 30
)

// DayCost holds the value of each wish of a day, indexed by DayWish; 0 is best.
type DayCost [dayWishes]int

// Less tells whether c is better than o.
func (c DayCost) Less(o DayCost) bool { return slices.Compare(c[:], o[:]) < 0 }

// DayCost judges the hours of one day's sessions, all of which have some.
// Stood gives where sessions began in an earlier layout, by id; it may be nil.
func (s *Season) DayCost(d Date, sessions []*Session, stood map[string]Clock) DayCost {
	var c DayCost
	blocks := runs(sessions, s.Limits.BlockRest)
	free := Touching(s.Free(d))
	for _, v := range sessions {
		if !slices.Equal(v.Rests, s.Shape(v).At(*v.Start)) ||
			!slices.ContainsFunc(free, func(f Span) bool { return f.From <= *v.Start && *v.Ends <= f.To }) {
			c[Whole]++
		}
		if *v.Start%Grid != 0 {
			c[OnGrid]++
		}
		if at, ok := stood[v.ID]; ok {
			c[Stays] += int(max(*v.Start-at, at-*v.Start))
		}
		c[Ends] = max(c[Ends], int(*v.Ends))
	}
	c[Before] = s.beforeServices(d, sessions)
	c[Cold] = cold(sessions)
	c[Strains] = s.strainsAgain(sessions, blocks)
	c[Aside] = s.aside(d, sessions, blocks)
	switch s.Habits.PartChanges {
	case OneWorkAtATime:
		c[OneWork] = partChanges(sessions, blocks)
	case FewChanges:
		c[Changes] = partChanges(sessions, blocks)
	}
	for _, v := range sessions {
		if w := s.Pressing(v); w > 0 {
			c[Early] += w * slices.IndexFunc(blocks, func(b Span) bool { return b.To > *v.Start })
		}
	}
	return c
}

// aside counts what is not played by where it lies: nothing within the hours
// that the player gives for it on the day. Elsewhere one where the day has such
// hours, and one where it lies between two blocks: heard first or last it leaves
// the warm-up to what is played after it, and the playing together.
func (s *Season) aside(d Date, sessions []*Session, blocks []Span) (n int) {
	hours := Touching(s.Habits.ListeningHours.On(d))
	for _, v := range sessions {
		if v.Stage.Playing() || slices.ContainsFunc(hours, func(h Span) bool { return h.From <= *v.Start && *v.Ends <= h.To }) {
			continue
		}
		if len(hours) > 0 {
			n++
		}
		if slices.ContainsFunc(blocks, func(b Span) bool { return b.To <= *v.Start }) &&
			slices.ContainsFunc(blocks, func(b Span) bool { return b.From >= *v.Ends }) {
			n++
		}
	}
	return n
}

// cold gives the minutes between the warm-up and what is played after it.
func cold(sessions []*Session) int {
	var warm, first *Session
	for _, v := range sessions {
		switch {
		case v.Stage == WarmUpStage:
			warm = v
		case v.Stage.Playing() && (first == nil || *v.Start < *first.Start):
			first = v
		}
	}
	if warm == nil || first == nil {
		return 0
	}
	return int(max(0, *first.Start-*warm.Ends))
}

func (s *Season) beforeServices(d Date, sessions []*Session) (sum int) {
	for _, service := range s.ServicesOn(d) {
		for _, v := range sessions {
			if !v.Stage.Playing() {
				continue
			}
			for _, p := range v.Pieces() {
				sum += max(0, int(min(p.To, service.Start)-max(p.From, service.Start-Clock(Lull))))
			}
		}
	}
	return sum
}

// strainsAgain counts the strains that two blocks running share.
func (s *Season) strainsAgain(sessions []*Session, blocks []Span) (n int) {
	strains := make([]string, len(sessions))
	for i, v := range sessions {
		strains[i] = s.StrainOf(v)
	}
	var last map[string]bool
	for _, b := range blocks {
		here := map[string]bool{}
		for i, v := range sessions {
			what := strains[i]
			if what == "" {
				continue
			}
			if slices.ContainsFunc(v.Pieces(), func(p Span) bool { return b.From <= p.From && p.To <= b.To }) {
				here[what] = true
			}
		}
		for what := range here {
			if last[what] {
				n++
			}
		}
		last = here
	}
	return n
}

// StrainOf gives what a session strains, in one spelling; empty: not said.
func (s *Season) StrainOf(v *Session) string {
	if p := s.passageOf(v); p != nil {
		return strings.ToLower(strings.TrimSpace(p.Strains))
	}
	return ""
}

// passageOf gives what the season file says of a visit's passage, nil for
// anything else.
func (s *Season) passageOf(v *Session) *Passage {
	if v.Passage == nil {
		return nil
	}
	_, part := s.part(v.Part)
	if part == nil {
		return nil
	}
	id := (*v.Passage)[strings.LastIndexByte(*v.Passage, '/')+1:]
	for i := range part.Passages {
		if part.Passages[i].ID == id {
			return &part.Passages[i]
		}
	}
	return nil
}

// Pressing gives how much a session wants to come early: hard passages twice,
// easy ones and all else not at all.
func (s *Season) Pressing(v *Session) int {
	if v.Stage != PassageStage {
		return 0
	}
	if p := s.passageOf(v); p != nil {
		return p.Hard - 1
	}
	return 1 // of an estimate, or gone from the file
}

// DayBreaches gives what is wrong with the hours of one day's sessions: the
// rules of the clock alone, whatever the rest of the plan.
func (s *Season) DayBreaches(d Date, sessions []*Session) []Breach {
	a := &audit{s: s, rule: HoursRule}
	day := &auditDay{Room: s.RoomOn(d)}
	for _, v := range sessions {
		day.add(v)
	}
	a.clockKept(day)
	if len(a.out) == 0 {
		a.restsKept(day)
	}
	var warm, played *Session
	first := func(v, than *Session) bool { return than == nil || *v.Start < *than.Start }
	heard := map[string]*Session{}
	for _, v := range sessions {
		switch {
		case v.Start == nil:
		case v.Stage == WarmUpStage:
			warm = v
		case v.Stage == ListeningStage:
			heard[v.Part] = v
		case v.Stage.Playing() && first(v, played):
			played = v
		}
	}
	if warm != nil && played != nil && *played.Start < *warm.Start {
		a.rule = WarmUpRule
		a.breach(d, 0, played.ID, "%s is played before the warm-up", played.ID)
	}
	for _, v := range sessions {
		if l := heard[v.Part]; l != nil && v.Stage == ReadStage && v.Start != nil && *v.Start < *l.Start {
			a.rule = OrderRule
			a.breach(d, 0, v.ID, "%s comes before the part is listened to", v.ID)
		}
	}
	slices.SortStableFunc(a.out, func(x, y Breach) int { return cmp.Compare(x.Name, y.Name) })
	return a.out
}

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
	Strains                // times that two blocks running strain the same
	Between                // listening and recordings that do not lie between two blocks
	Early                  // blocks before a passage's own, twice for hard ones, never for easy ones
	Ends                   // minute of the day at which the last session ends
	dayWishes
)

var dayWishTable = [dayWishes]string{
	"sessions broken up", "starts off the grid", "minutes of playing right before a service", "minutes moved", "minutes between warm-up and playing",
	"same strain in blocks running", "listening not between blocks", "blocks before hard passages", "end of the day",
}

// String says what the wish counts.
func (w DayWish) String() string { return dayWishTable[w] }

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
	for _, v := range sessions {
		if v.Stage.Playing() {
			continue
		}
		after := slices.ContainsFunc(blocks, func(b Span) bool { return b.To <= *v.Start })
		ahead := slices.ContainsFunc(blocks, func(b Span) bool { return b.From >= *v.Ends })
		if !after || !ahead {
			c[Between]++
		}
	}
	for _, v := range sessions {
		if w := s.Pressing(v); w > 0 {
			c[Early] += w * slices.IndexFunc(blocks, func(b Span) bool { return b.To > *v.Start })
		}
	}
	return c
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

// StrainOf gives what a session strains, in one spelling; empty: not said.
func (s *Season) StrainOf(v *Session) string {
	if p := s.passageOf(v); p != nil {
		return strings.ToLower(strings.TrimSpace(p.Strains))
	}
	return ""
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

// Shape is how a session is broken up: the minutes from its start to each of
// its rests, and to where it goes on.
type Shape struct {
	Pieces []Span // from its start; Clock counts minutes here
}

// Length gives the minutes from start to end.
func (h Shape) Length() Minutes { return Minutes(h.Pieces[len(h.Pieces)-1].To) }

// At gives the rests of a session of this shape that begins at a time.
func (h Shape) At(start Clock) (rests []Span) {
	for i, p := range h.Pieces[1:] {
		rests = append(rests, Span{start + h.Pieces[i].To, start + p.From})
	}
	return rests
}

// Shape gives the sensible way to break up a session: what is not played is
// whole, and so is what fits a block. Longer ones are as few pieces as go, as
// even as whole steps allow, the longer first, with a rest between that ends on
// the grid. A visit of a passage is thus unbroken unless it is longer than a
// block.
func (s *Season) Shape(v *Session) Shape {
	if !v.Stage.Playing() || v.Minutes <= s.Limits.Block {
		return Shape{[]Span{{0, Clock(v.Minutes)}}}
	}
	var out []Span
	block, step, at := s.Limits.Block, s.Habits.Step, Clock(0)
	for left := v.Minutes; left > 0; {
		n := (left + block - 1) / block
		even := (left + n - 1) / n
		piece := min(left, block, (even+step-1)/step*step)
		out = append(out, Span{at, at + Clock(piece)})
		at = ceil(at+Clock(piece)+Clock(s.Limits.BlockRest), Grid)
		left -= piece
	}
	return Shape{Touching(out)}
}

// Touching joins spans that touch.
func Touching(spans []Span) (out []Span) {
	for _, f := range spans {
		if n := len(out); n > 0 && out[n-1].To == f.From {
			out[n-1].To = f.To
		} else {
			out = append(out, f)
		}
	}
	return out
}

func ceil(c, grid Clock) Clock { return (c + grid - 1) / grid * grid }

// Place gives a session the hours of its shape from a start on.
func (s *Season) Place(v *Session, start Clock) {
	shape := s.Shape(v)
	ends := start + Clock(shape.Length())
	v.Start, v.Ends, v.Rests = &start, &ends, shape.At(start)
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

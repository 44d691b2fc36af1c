package model

import (
	"cmp"
	"slices"
)

// stageOrder gives the place of a stage in the day: listening while the
// instrument is in its case, then the warm-up, then playing.
func stageOrder(s Stage) int {
	return slices.Index([]Stage{ListeningStage, RecordingsStage, WarmUpStage, ReadStage, PassageStage}, s)
}

// inDay orders the sessions of one day by stage; within a stage they keep the
// order in which they are given (see urgency).
func inDay(a, b *Session) int { return stageOrder(a.Stage) - stageOrder(b.Stage) }

// LayOut gives the sessions of a day their start and end, one after the other,
// by stage and then in the order given, and tells whether they fit. Where the
// day takes them so they lie on the grid, in the pieces of their Shape (see
// careful). On fuller days short ones (up to two steps) are kept whole and
// longer ones go on after a rest; after a service or a longer pause only where
// there is no room for anything else.
// Where they do not fit, or the season gives no hours, they are left without.
// It fits whenever the sum is at most Room.Held (see held).
func (s *Season) LayOut(d Date, sessions []*Session) bool {
	for _, v := range sessions {
		v.Start, v.Ends, v.Rests = nil, nil, nil
	}
	if !s.HasHours() {
		return true
	}
	order := slices.Clone(sessions)
	slices.SortStableFunc(order, inDay)
	free, quiet := s.working(d)
	if quiet && slices.ContainsFunc(order, func(v *Session) bool { return v.Stage.Playing() }) {
		return false
	}
	if s.careful(d, order) || s.careful(d, longestFirst(order)) {
		return true
	}
	pieces, ok := s.lay(s.Blocks(free), order, free)
	if !ok {
		// Held counts on every minute of the blocks, so it allows for no care.
		pieces, ok = s.lay(s.Blocks(free), order, nil)
	}
	if !ok {
		return false
	}
	for i, v := range order {
		v.play(pieces[i])
	}
	return true
}

// play gives a session the hours of its pieces; what lies between them is rest.
func (v *Session) play(pieces []Span) {
	from, to := pieces[0].From, pieces[len(pieces)-1].To
	v.Start, v.Ends, v.Rests = &from, &to, nil
	for i, p := range pieces[1:] {
		v.Rests = append(v.Rests, Span{pieces[i].To, p.From})
	}
}

// Pieces gives the stretches of a session's hours without the rests between;
// none where it has no hours.
func (v *Session) Pieces() []Span {
	if v.Start == nil || v.Ends == nil {
		return nil
	}
	out := []Span{{*v.Start, *v.Ends}}
	for _, r := range v.Rests {
		n := len(out) - 1
		out = append(out, Span{r.To, out[n].To})
		out[n].To = r.From
	}
	return out
}

// lay walks through the blocks once and gives each session's pieces; what it
// has passed it never returns to, so the sessions stay in their order. No
// session lies in two of the spans given as whole where a later one holds it.
func (s *Season) lay(blocks []Span, sessions []*Session, whole []Span) ([][]Span, bool) {
	pieces := make([][]Span, len(sessions))
	for i, v := range sessions {
		left := v.Minutes
		blocks = holding(blocks, whole, left)
		if left <= wholeSteps*s.Habits.Step {
			for len(blocks) > 0 && blocks[0].Length() < left {
				blocks = blocks[1:]
			}
		}
		for left > 0 {
			if len(blocks) == 0 {
				return nil, false
			}
			b := &blocks[0]
			take := min(left, b.Length())
			if n := len(pieces[i]); n > 0 && pieces[i][n-1].To == b.From { // no rest between these blocks
				pieces[i][n-1].To += Clock(take)
			} else {
				pieces[i] = append(pieces[i], Span{b.From, b.From + Clock(take)})
			}
			b.From += Clock(take)
			if left -= take; b.Length() == 0 {
				blocks = blocks[1:]
			}
		}
	}
	return pieces, true
}

// holding gives the blocks from the first span on whose blocks hold so many
// minutes together; all of them where none does.
func holding(blocks, spans []Span, minutes Minutes) []Span {
	for _, f := range spans {
		var sum Minutes
		first := -1
		for i, b := range blocks {
			if f.From <= b.From && b.To <= f.To {
				sum += b.Length()
				if first < 0 {
					first = i
				}
			}
		}
		if sum >= minutes {
			return blocks[max(first, 0):]
		}
	}
	return blocks
}

// PlanDays fills the plan's days from its sessions: one for each day of the
// season.
func (s *Season) PlanDays(p *Plan) {
	planned, warm := s.planned(p.Sessions), make([]Minutes, s.Days())
	for i := range p.Sessions {
		if v := &p.Sessions[i]; v.Stage == WarmUpStage && s.Holds(v.Date) {
			warm[v.Date-s.From] += v.Minutes
		}
	}
	if s.Limits.WarmUpAgain > 0 {
		for d, sessions := range p.ByDate() {
			if s.Holds(d) {
				warm[d-s.From] += s.Limits.WarmUpAgain * Minutes(len(s.WarmUpsAgain(d, sessions)))
			}
		}
	}
	p.Days = make([]Day, len(planned))
	for i := range p.Days {
		r := s.RoomOn(s.From + Date(i))
		p.Days[i] = Day{Date: r.Date, Cap: r.Cap, Services: r.Services, Other: r.Other, WarmUp: warm[i], Planned: planned[i], Rest: r.Rest}
	}
}

// Finish turns bare sessions into a plan: it adds the warm-ups, puts the
// sessions in order, lays them out in hours where the season gives any, and
// sums up the days. It gives the days whose sessions the hours do not hold;
// a plan within every Room has none. Finishing twice changes nothing.
func (s *Season) Finish(p *Plan) []Date { return s.FinishFrom(p, nil) }

// FinishFrom finishes the days from the history's today on and leaves the
// sessions of earlier days as they stand. The history may be nil.
func (s *Season) FinishFrom(p *Plan, h *History) (over []Date) {
	from := s.Today(h)
	p.From, p.To = s.From, s.To
	u := s.urgency(h)
	isDone := func(v *Session) bool { // on the day that has begun
		_, open := u.last[v.ID]
		return h != nil && v.Date == h.Today && !open
	}
	begun := false             // something was played on it
	warm := map[Date]Session{} // as they stood: a warm-up keeps its sequence
	plays := map[Date]bool{}
	sessions := make([]Session, 0, len(p.Sessions)+16)
	for _, v := range p.Sessions {
		if v.Stage == WarmUpStage && v.Date >= from {
			warm[v.Date] = v
			continue
		}
		if v.Date >= from && v.Stage.Playing() {
			plays[v.Date] = true
			begun = begun || isDone(&v)
		}
		sessions = append(sessions, v)
	}
	if s.Limits.WarmUp > 0 {
		for d := range plays {
			v := Session{ID: WarmUpID(d), Date: d, Minutes: s.Limits.WarmUp, Playing: true, Stage: WarmUpStage, Sequence: warm[d].Sequence}
			if begun && d == h.Today {
				v.Start, v.Ends = warm[d].Start, warm[d].Ends
			}
			sessions = append(sessions, v)
		}
	}
	slices.SortStableFunc(sessions, func(a, b Session) int {
		if c := cmp.Or(cmp.Compare(a.Date, b.Date), inDay(&a, &b)); c != 0 || a.Date < from {
			return c
		}
		return u.before(&a, &b)
	})
	p.Sessions = sessions
	for i := 0; i < len(sessions); {
		d, day, done := sessions[i].Date, []*Session(nil), []*Session(nil)
		for ; i < len(sessions) && sessions[i].Date == d; i++ {
			v := &sessions[i]
			if isDone(v) && (v.Stage != WarmUpStage || begun) {
				done = append(done, v)
			}
			day = append(day, v)
		}
		if d < from || len(done) > 0 && s.after(d, done, day) {
			continue
		}
		if !s.LayOut(d, day) {
			over = append(over, d)
		}
	}
	s.PlanDays(p)
	return over
}

// Blocks cuts a day's sessions, in the order in which they are played, where
// there is a rest or another gap between two. Sessions without times are one
// block.
func Blocks(day []*Session) [][]*Session {
	var out [][]*Session
	for i, s := range day {
		if i == 0 || gap(day[i-1], s) {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], s)
	}
	return out
}

func gap(a, b *Session) bool {
	return a.Ends != nil && b.Start != nil && *b.Start > *a.Ends
}

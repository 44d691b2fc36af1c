package model

import "slices"

// lays is a first layout of one day under way.
type lays struct {
	s        *Season
	free     []Span // in which may be listened
	playable []Span // in which may be played
	at       Clock  // nothing more begins before this
	run      Span   // the playing since the last rest; empty: none yet
}

// careful lays a day out as the wishes of a day want it at least: sessions on
// the grid, in the pieces that Shape gives them, each in one stretch of free
// hours, one after the other in the order given. It tells whether they fit so;
// where they don't nothing is changed. No engine is asked, so that a plan cut
// short has sensible hours too.
func (s *Season) careful(d Date, order []*Session) bool {
	hours := s.Habits.ListeningHours.On(d)
	return len(hours) > 0 && s.carefully(d, order, hours) || s.carefully(d, order, nil)
}

// carefully is careful with what is not played in its hours first, as far as
// they take it.
func (s *Season) carefully(d Date, order []*Session, hours []Span) bool {
	l := lays{s: s, free: Touching(s.Free(d)), playable: Touching(s.Playable(d))}
	starts, aside := make([]Clock, len(order)), map[*Session]Clock{}
	if len(hours) > 0 {
		aside = l.aside(order, hours)
	}
	for i, v := range order {
		start, ok := aside[v]
		if !ok {
			start, ok = l.place(v)
		}
		if !ok {
			return false
		}
		starts[i] = start
	}
	for i, v := range order {
		s.Place(v, starts[i])
	}
	return true
}

// aside finds what is not played its starts in the hours for it, and takes that
// time from the rest of the day. What is listened to before it is read on the
// same day keeps its place in the order.
func (l *lays) aside(order []*Session, hours []Span) map[*Session]Clock {
	starts := map[*Session]Clock{}
	for _, v := range order {
		if v.Stage.Playing() || slices.ContainsFunc(order, func(r *Session) bool {
			return v.Stage == ListeningStage && r.Stage == ReadStage && r.Part == v.Part
		}) {
			continue
		}
		for _, f := range common(l.free, Touching(hours)) {
			start := ceil(f.From)
			if end := start + Clock(v.Minutes); end <= f.To {
				starts[v] = start
				l.free, l.playable = without(l.free, Span{start, end}), without(l.playable, Span{start, end})
				break
			}
		}
	}
	return starts
}

// common gives the time that lies in both.
func common(a, b []Span) (out []Span) {
	for _, x := range a {
		for _, y := range b {
			if z := (Span{max(x.From, y.From), min(x.To, y.To)}); z.From < z.To {
				out = append(out, z)
			}
		}
	}
	return out
}

// after lays out what is left of a day on which some sessions are done: those
// keep their hours, and the rest follows the last of them, or where that doesn't
// fit lies around them. It tells whether it fits so; where it doesn't nothing is
// changed.
func (s *Season) after(d Date, done, day []*Session) bool {
	l := lays{s: s, free: Touching(s.Free(d)), playable: Touching(s.Playable(d))}
	around := l
	for _, v := range done {
		if v.Ends == nil { // what was recorded and not planned has no hours
			continue
		}
		l.at = max(l.at, *v.Ends)
		around.free = without(around.free, Span{*v.Start, *v.Ends})
		around.playable = without(around.playable, Span{*v.Start, *v.Ends})
	}
	if runs := runs(done, s.Limits.BlockRest); len(runs) > 0 {
		l.run = runs[len(runs)-1]
	}
	rest := slices.DeleteFunc(slices.Clone(day), func(v *Session) bool { return slices.Contains(done, v) })
	if l.all(d, rest, day) || around.all(d, rest, day) {
		return true
	}
	slices.SortStableFunc(rest, inDay)
	stretches := s.besides(d, done)
	slices.SortStableFunc(stretches, func(a, b []Span) int { return int(s.held(b) - s.held(a)) })
	pieces, ok := s.lay(s.Blocks(stretches[0]), rest, nil)
	for i, v := range rest {
		if ok {
			v.play(pieces[i])
		}
	}
	return ok
}

// besides gives the spans of a day that planned work is counted by, apart for each
// stretch before, between and after sessions that are done on it, with a rest around
// what was played.
func (s *Season) besides(d Date, done []*Session) (out [][]Span) {
	timed := slices.DeleteFunc(slices.Clone(done), func(v *Session) bool { return v.Start == nil })
	slices.SortFunc(timed, func(a, b *Session) int { return int(*a.Start - *b.Start) })
	spans, _ := s.working(d)
	from := Clock(0)
	for _, v := range timed {
		rest := Clock(0)
		if v.Stage.Playing() {
			rest = Clock(s.Limits.BlockRest)
		}
		out = append(out, common(spans, []Span{{from, *v.Start - rest}}))
		from = *v.Ends + rest
	}
	return append(out, common(spans, []Span{{from, 24 * 60}}))
}

// HeldBeside gives the minutes of planned work that certainly fit a day beside the
// sessions that are done on it, which keep their hours: those of the stretch before,
// between or after them that holds most. NoLimit without hours.
func (s *Season) HeldBeside(d Date, done []*Session) (most Minutes) {
	if !s.HasHours() {
		return NoLimit
	}
	for _, spans := range s.besides(d, done) {
		most = max(most, s.held(spans))
	}
	return most
}

// all places sessions one after the other beside what has hours on the day, where
// they fit and keep its rules.
func (l *lays) all(d Date, sessions, day []*Session) bool {
	starts := make([]Clock, len(sessions))
	for i, v := range sessions {
		start, ok := l.place(v)
		if !ok {
			return false
		}
		starts[i] = start
	}
	for i, v := range sessions {
		l.s.Place(v, starts[i])
	}
	timed := slices.DeleteFunc(slices.Clone(day), func(v *Session) bool { return v.Start == nil })
	if len(l.s.DayBreaches(d, timed)) == 0 {
		return true
	}
	for _, v := range sessions {
		v.Start, v.Ends, v.Rests = nil, nil, nil
	}
	return false
}

// place finds a session its start after those before it.
func (l *lays) place(v *Session) (Clock, bool) {
	shape := l.s.Shape(v)
	spans := l.free
	if v.Stage.Playing() {
		spans = l.playable
	}
	length := Clock(shape.Length())
	for _, f := range spans {
		start := ceil(max(l.at, f.From))
		if v.Stage.Playing() {
			start = l.rested(start, shape.Pieces[0])
		}
		if start+length > f.To {
			continue
		}
		l.at = start + length
		if v.Stage.Playing() {
			l.play(start, shape.Pieces)
		}
		return start, true
	}
	return 0, false
}

// rested gives the start of a piece of playing from a time on: later, after a
// rest, where the run it would belong to became longer than a block.
func (l *lays) rested(start Clock, piece Span) Clock {
	rest, block := Clock(l.s.Limits.BlockRest), Clock(l.s.Limits.Block)
	if l.run.To > 0 && start-l.run.To < rest && start+piece.To-l.run.From > block {
		return ceil(l.run.To + rest)
	}
	return start
}

// play notes the pieces of a session that begins at a time.
func (l *lays) play(start Clock, pieces []Span) {
	for _, p := range pieces {
		from, to := start+p.From, start+p.To
		if l.run.To == 0 || from-l.run.To >= Clock(l.s.Limits.BlockRest) {
			l.run.From = from
		}
		l.run.To = to
	}
}

// longestFirst gives another order of a day in which more may fit: visits go by
// their length, the longest first, so that short ones fill what is left of the
// blocks; all else stays.
func longestFirst(order []*Session) []*Session {
	out := slices.Clone(order)
	slices.SortStableFunc(out, func(a, b *Session) int {
		if a.Stage == PassageStage && b.Stage == PassageStage {
			return int(b.Minutes - a.Minutes)
		}
		return inDay(a, b)
	})
	return out
}

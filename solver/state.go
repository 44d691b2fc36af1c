package solver

import (
	"slices"

	"primaprova/model"
)

// state is a plan being built: the days' loads and every part's frame and
// schedules. It always keeps the hard rules; only what is left out may vary.
type state struct {
	p       *problem
	frames  []frame   // by part
	sched   [][]int16 // by passage: the days of the visits placed, a run from the first
	planned []model.Minutes
	listen  []int
	visits  []int
	week    []int64 // load by week, services included
	sum     score
}

// newState gives the state in which nothing ahead is placed.
func newState(p *problem) *state {
	s := &state{p: p, frames: make([]frame, len(p.parts)), sched: make([][]int16, len(p.passages)),
		planned: slices.Clone(p.fixed), listen: make([]int, p.days), visits: make([]int, p.days),
		week: make([]int64, len(p.strain.Weeks))}
	for w, k := range p.strain.Weeks {
		s.week[w] = int64(k.Services)
		for d := k.First; d <= k.Last; d++ {
			s.week[w] += int64(p.fixed[d])
		}
	}
	for i := range p.parts {
		q := &p.parts[i]
		s.frames[i] = p.unplaced(i)
		s.sum = s.sum.plus(p.stagesScore(q, s.frames[i]))
	}
	for i := range p.passages {
		s.sum = s.sum.plus(p.scheduleScore(&p.passages[i], nil))
	}
	s.sum[model.Body] = p.strain.Excess(s.planned)
	return s
}

// clone copies the state.
func (s *state) clone() *state {
	c := *s
	c.frames, c.planned, c.listen, c.visits = slices.Clone(s.frames), slices.Clone(s.planned), slices.Clone(s.listen), slices.Clone(s.visits)
	c.week, c.sched = slices.Clone(s.week), slices.Clone(s.sched) // schedules are replaced, never changed
	return &c
}

// score measures the state in every wish.
func (s *state) score() score { return s.sum }

// play adds minutes of planned playing to a day (takes off, if negative).
func (s *state) play(d, minutes int) {
	s.sum[model.Body] += s.extra(d, minutes)
	s.planned[d] += model.Minutes(minutes)
	s.week[s.p.weekOf[d]] += int64(minutes)
}

// place puts a passage's schedule in the calendar; it must not be placed.
func (s *state) place(i int, days []int16) {
	q := &s.p.passages[i]
	s.sum = s.sum.plus(s.p.scheduleScore(q, days)).minus(s.p.scheduleScore(q, nil))
	s.sched[i] = slices.Clone(days)
	for k, d := range days {
		s.play(int(d), q.visits[k].minutes)
		s.visits[d]++
	}
}

// lift takes a passage out of the calendar.
func (s *state) lift(i int) {
	q := &s.p.passages[i]
	days := s.sched[i]
	s.sum = s.sum.plus(s.p.scheduleScore(q, nil)).minus(s.p.scheduleScore(q, days))
	for k, d := range days {
		s.play(int(d), -q.visits[k].minutes)
		s.visits[d]--
	}
	s.sched[i] = nil
}

// setFrame gives a part another frame; its passages must be lifted or fit it.
func (s *state) setFrame(i int, f frame) {
	q := &s.p.parts[i]
	s.sum = s.sum.minus(s.p.stagesScore(q, s.frames[i])).plus(s.p.stagesScore(q, f))
	s.useStages(q, s.frames[i], -1)
	s.frames[i] = f
	s.useStages(q, f, 1)
}

func (s *state) useStages(q *part, f frame, sign int) {
	if q.listen > 0 && f.listen != none {
		s.listen[f.listen] += sign * q.listen
	}
	if q.rec > 0 && f.rec != none {
		s.listen[f.rec] += sign * q.rec
	}
	if q.read > 0 && f.read != none {
		s.play(int(f.read), sign*q.read)
	}
}

// liftPart takes a part's passages and stages out of the calendar.
func (s *state) liftPart(i int) {
	q := &s.p.parts[i]
	for k := q.first; k < q.last; k++ {
		s.lift(k)
	}
	s.setFrame(i, s.p.unplaced(i))
}

// unplaced gives the frame of a part of which nothing ahead is placed.
func (p *problem) unplaced(i int) frame {
	if q := &p.parts[i]; q.readDone {
		return frame{none, before, none, int16(q.lo - 1)}
	}
	return frame{none, none, none, none}
}

// playable tells whether a day takes so many more minutes of playing.
func (s *state) playable(d, minutes int) bool {
	r := &s.p.room[d]
	return int(s.planned[d])+minutes <= r.playing && int(s.planned[d])+s.listen[d]+minutes <= r.held
}

// listenable tells whether a day takes so many more minutes of listening.
func (s *state) listenable(d, minutes int) bool {
	r := &s.p.room[d]
	return s.listen[d]+minutes <= r.listening && int(s.planned[d])+s.listen[d]+minutes <= r.held
}

// extra gives what so many more minutes of playing on a day add to the body
// wish, in hundredths of a minute.
func (s *state) extra(d, minutes int) int64 {
	b := s.p.strain
	m := model.Minutes(minutes)
	rise := func(over, more model.Minutes) int64 {
		return int64(max(0, over+more) - max(0, over))
	}
	sum := rise(s.planned[d]-b.Slack[d], m)
	if d+1 < s.p.days {
		sum += rise(s.planned[d]+s.planned[d+1]-b.Pair[d], m)
	}
	if d > 0 {
		sum += rise(s.planned[d-1]+s.planned[d]-b.Pair[d-1], m)
	}
	sum *= 100
	w := s.p.weekOf[d]
	share, floor := int64(100+b.Rise), 100*int64(b.Floor)
	if b.Weeks[w].Rises {
		over := 100*s.week[w] - share*s.week[w-1] - floor
		sum += max(0, over+100*int64(minutes)) - max(0, over)
	}
	if w+1 < len(b.Weeks) && b.Weeks[w+1].Rises {
		over := 100*s.week[w+1] - share*s.week[w] - floor
		sum += max(0, over-share*int64(minutes)) - max(0, over)
	}
	return sum
}

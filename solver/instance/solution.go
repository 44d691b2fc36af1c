package instance

import (
	"math"
	"slices"

	"primaprova/model"
)

// Solution is a plan being built: the days' loads and every part's frame and
// schedules. It always keeps the hard rules; only what is left out may vary.
type Solution struct {
	P       *Instance
	Frames  []Frame // by part
	Sched   [][]Day // by passage: the days of the visits placed, a run from the first
	Planned []model.Minutes
	Listen  []int
	Visits  []int
	week    []int64 // load by week, services included
	Sum     Score
}

// NewSolution gives the solution in which nothing ahead is placed.
func NewSolution(p *Instance) *Solution {
	s := &Solution{P: p, Frames: make([]Frame, len(p.Parts)), Sched: make([][]Day, len(p.Passages)),
		Planned: slices.Clone(p.Fixed), Listen: make([]int, p.Days), Visits: make([]int, p.Days),
		week: make([]int64, len(p.Strain.Weeks))}
	for w, k := range p.Strain.Weeks {
		s.week[w] = int64(k.Services)
		for d := k.First; d <= k.Last; d++ {
			s.week[w] += int64(p.Fixed[d])
		}
	}
	for i := range p.Parts {
		q := &p.Parts[i]
		s.Frames[i] = p.Unplaced(i)
		s.Sum = s.Sum.Plus(p.StagesScore(q, s.Frames[i]))
	}
	for i := range p.Passages {
		s.Sum = s.Sum.Plus(p.ScheduleScore(&p.Passages[i], nil))
	}
	s.Sum[model.Body] = p.Strain.Excess(s.Planned)
	return s
}

// Clone copies the solution.
func (s *Solution) Clone() *Solution {
	c := *s
	c.Frames, c.Planned, c.Listen, c.Visits = slices.Clone(s.Frames), slices.Clone(s.Planned), slices.Clone(s.Listen), slices.Clone(s.Visits)
	c.week, c.Sched = slices.Clone(s.week), slices.Clone(s.Sched) // schedules are replaced, never changed
	return &c
}

// Score measures the solution in every wish.
func (s *Solution) Score() Score { return s.Sum }

// Play adds minutes of planned playing to a day (takes off, if negative).
func (s *Solution) Play(d, minutes int) {
	s.Sum[model.Body] += s.Extra(d, minutes)
	s.Planned[d] += model.Minutes(minutes)
	s.week[s.P.weekOf[d]] += int64(minutes)
}

// Place puts a passage's schedule in the calendar; it must not be placed.
func (s *Solution) Place(i int, days []Day) {
	q := &s.P.Passages[i]
	s.Sum = s.Sum.Plus(s.P.ScheduleScore(q, days)).Minus(s.P.ScheduleScore(q, nil))
	s.Sched[i] = slices.Clone(days)
	for k, d := range days {
		s.Play(int(d), q.Visits[k].Minutes)
		s.Visits[d]++
	}
}

// Lift takes a passage out of the calendar.
func (s *Solution) Lift(i int) {
	q := &s.P.Passages[i]
	days := s.Sched[i]
	s.Sum = s.Sum.Plus(s.P.ScheduleScore(q, nil)).Minus(s.P.ScheduleScore(q, days))
	for k, d := range days {
		s.Play(int(d), -q.Visits[k].Minutes)
		s.Visits[d]--
	}
	s.Sched[i] = nil
}

// SetFrame gives a part another frame; its passages must be lifted or fit it.
func (s *Solution) SetFrame(i int, f Frame) {
	q := &s.P.Parts[i]
	s.Sum = s.Sum.Minus(s.P.StagesScore(q, s.Frames[i])).Plus(s.P.StagesScore(q, f))
	s.useStages(q, s.Frames[i], -1)
	s.Frames[i] = f
	s.useStages(q, f, 1)
}

func (s *Solution) useStages(q *Part, f Frame, sign int) {
	if q.Listen > 0 && f.Listen != None {
		q.Heard(int(f.Listen), func(d, minutes int) { s.Listen[d] += sign * minutes })
	}
	if q.Rec > 0 && f.Rec != None {
		s.Listen[f.Rec] += sign * q.Rec
	}
	if q.Read > 0 && f.Read != None {
		s.Play(int(f.Read), sign*q.Read)
	}
}

// LiftPart takes a part's passages and stages out of the calendar.
func (s *Solution) LiftPart(i int) {
	q := &s.P.Parts[i]
	for k := q.First; k < q.Last; k++ {
		s.Lift(k)
	}
	s.SetFrame(i, s.P.Unplaced(i))
}

// Unplaced gives the frame of a part of which nothing ahead is placed.
func (p *Instance) Unplaced(i int) Frame {
	if q := &p.Parts[i]; q.ReadDone {
		return Frame{None, Before, None, Day(q.Lo - 1)}
	}
	return Frame{None, None, None, None}
}

// Playable tells whether a day takes so many more minutes of playing.
func (s *Solution) Playable(d, minutes int) bool {
	r := &s.P.Room[d]
	return int(s.Planned[d])+minutes <= r.Playing && int(s.Planned[d])+s.Listen[d]+minutes <= r.Held
}

// Listenable tells whether a day takes so many more minutes of listening.
func (s *Solution) Listenable(d, minutes int) bool {
	r := &s.P.Room[d]
	return s.Listen[d]+minutes <= r.Listening && int(s.Planned[d])+s.Listen[d]+minutes <= r.Held
}

// Extra gives what so many more minutes of playing on a day add to the body
// wish, in hundredths of a minute.
func (s *Solution) Extra(d, minutes int) int64 {
	b := s.P.Strain
	m := model.Minutes(minutes)
	rise := func(over, more model.Minutes) int64 {
		return int64(max(0, over+more) - max(0, over))
	}
	sum := rise(s.Planned[d]-b.Slack[d], m)
	if d+1 < s.P.Days {
		sum += rise(s.Planned[d]+s.Planned[d+1]-b.Pair[d], m)
	}
	if d > 0 {
		sum += rise(s.Planned[d-1]+s.Planned[d]-b.Pair[d-1], m)
	}
	sum *= 100
	w := s.P.weekOf[d]
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

// Usage is what is taken of the days already, by day: minutes of playing and of
// listening, and visits. Of a plan they are whole, of a spread plan they need not
// be.
type Usage struct{ Playing, Listening, Visits []float64 }

// Usage gives what a solution takes of the days.
func (s *Solution) Usage() Usage {
	t := Usage{make([]float64, s.P.Days), make([]float64, s.P.Days), make([]float64, s.P.Days)}
	for d := range s.Planned {
		t.Playing[d], t.Listening[d], t.Visits[d] = float64(s.Planned[d]), float64(s.Listen[d]), float64(s.Visits[d])
	}
	return t
}

// Place adds a passage's schedule with a weight.
func (t Usage) Place(q *Passage, days []Day, weight float64) {
	for n, d := range days {
		t.Playing[d] += weight * float64(q.Visits[n].Minutes)
		t.Visits[d] += weight
	}
}

// Clone gives what can be added to while the other stays.
func (t Usage) Clone() Usage {
	return Usage{slices.Clone(t.Playing), slices.Clone(t.Listening), slices.Clone(t.Visits)}
}

// Rounded gives the playing in whole minutes.
func (t Usage) Rounded() []model.Minutes {
	out := make([]model.Minutes, len(t.Playing))
	for d, m := range t.Playing {
		out[d] = model.Minutes(math.Round(m))
	}
	return out
}

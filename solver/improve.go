package solver

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"

	"primaprova/model"
)

// improver betters a state by taking a few passages out and putting them back
// where they now cost least, again and again. It works at one wish, its goal,
// and never lets a wish before it rise above where it stood. A move that costs
// more is kept with a chance that falls as the work goes on (simulated
// annealing: Kirkpatrick, Gelatt, Vecchi, Science 220, 671-680, 1983); in the
// end the best state in the order of the wishes stays. It counts moves, never
// seconds, so that the same seed gives the same plan on any machine.
type improver struct {
	inserter
	rng        *rand.Rand
	goal       model.Wish
	limit      score   // what the wishes before the goal may cost
	soft       bool    // the state began above a limit
	heat       float64 // cost that a move may add, in units of the goal
	free       []int   // passages that may move without cost, where most may not; empty: all alike
	lifted     []int
	worst      []int // passages that cost something in the goal
	kept       [][]int16
	keptFrames []frame
	keptDays   [][][]int16
}

// newImprover works on the state given; it changes it in place.
func newImprover(s *state, seed uint64) *improver {
	return &improver{inserter: inserter{s: s, by: inOrder}, rng: rand.New(rand.NewPCG(seed, 0x696d70726f7665))}
}

// run works at one wish with so many moves, fewer if the context ends or the
// goal is met. The state is in the end the best one found for the goal of those
// that cost no more in the wishes before it.
func (m *improver) run(ctx context.Context, goal model.Wish, moves int) {
	m.towards(ctx, goal, m.s.score(), moves)
}

// towards is run with limits of its own: the state may stand above them at
// first, and is brought below them on the way.
func (m *improver) towards(ctx context.Context, goal model.Wish, limit score, moves int) {
	if len(m.s.p.passages) == 0 {
		return
	}
	g := &stageOf[goal]
	if m.soft = !limit.allows(m.s.score(), goal); m.soft {
		g = &mending
	}
	m.goal, m.by, m.limit = goal, g.by, limit
	best, bestScore := m.s.clone(), m.s.score()
	allowed := !m.soft
	for n := range moves {
		if n%128 == 0 {
			now := m.s.score()
			if ok := m.limit.allows(now, goal); ok && (!allowed || now.lessFrom(bestScore, goal)) {
				best, bestScore, allowed = m.s.clone(), now, true
			}
			if ctx.Err() != nil || allowed && bestScore[goal] == 0 {
				break
			}
			m.heat = g.heat * math.Pow(g.cold/g.heat, float64(n)/float64(moves))
			m.findWorst()
			m.weigh(now)
		}
		i := m.pick()
		switch r := m.rng.IntN(100); {
		case r < g.reframe:
			m.reframe(m.overlapping(m.s.p.passages[i].part, 1+m.rng.IntN(3)))
		case r < g.reframe+g.nudge:
			m.nudge(m.s.p.passages[i].part)
		case r < 55:
			m.shake(m.around(i, 2+m.rng.IntN(4)))
		case r < 80:
			m.shake(m.onDays(i, 2+m.rng.IntN(6)))
		default:
			m.shake(append(m.lifted[:0], i))
		}
	}
	if now := m.s.score(); allowed && !(m.limit.allows(now, goal) && now.lessFrom(bestScore, goal)) {
		*m.s = *best
	}
}

// weigh sets what the wishes before the goal cost: a little more whenever there
// is too much of one, a little less otherwise. For body that takes the place of
// a hard limit, which would leave hardly a move open, since nearly every one
// shifts minutes; for the others only while the state stands above a limit.
func (m *improver) weigh(now score) {
	set := func(j model.Wish, w *float64, least, most float64) {
		if now[j] > m.limit[j] {
			*w = min(most, *w*1.02)
		} else {
			*w = max(least, *w/1.01)
		}
	}
	if m.goal == model.Spacing {
		set(model.Body, &m.by.body, 0.5, 100)
	}
	if m.soft {
		set(model.Coverage, &m.by.coverage, 100, 1e6)
		set(model.ReadyBy, &m.by.ready, 30, 1e5)
	}
}

// keeps tells whether a move from one score to another stands.
func (m *improver) keeps(from, to score) bool {
	for j := range m.goal {
		if to[j] > m.limit[j] && j != model.Body && (!m.soft || to[j] > from[j]) {
			return false
		}
	}
	rise := m.cost(to) - m.cost(from)
	return rise <= 0 || rise < -m.heat*math.Log(1-m.rng.Float64())
}

// cost weighs the goal and the wishes after it, those before it where they may
// be traded, in units of the goal.
func (m *improver) cost(s score) float64 {
	w := [5]float64{m.by.coverage, m.by.ready, m.by.closeness, m.by.body, m.by.spacing}
	sum := w[model.Body] * float64(s[model.Body]) / 100
	for j := range s {
		if w0 := model.Wish(j); w0 != model.Body && (w0 >= m.goal || m.soft) {
			sum += w[j] * float64(s[j])
		}
	}
	return sum / w[m.goal]
}

// findWorst lists the passages that cost something in the goal; body is no
// passage's own.
func (m *improver) findWorst() {
	m.worst = m.worst[:0]
	for i := range m.s.p.passages {
		if m.s.p.scheduleScore(&m.s.p.passages[i], m.s.sched[i])[m.goal] > 0 {
			m.worst = append(m.worst, i)
		}
	}
}

// pick chooses a passage: half of the time among the worst.
func (m *improver) pick() int {
	if len(m.worst) > 0 && m.rng.IntN(2) == 0 {
		return m.worst[m.rng.IntN(len(m.worst))]
	}
	if len(m.free) > 0 && m.rng.IntN(4) > 0 {
		return m.free[m.rng.IntN(len(m.free))]
	}
	return m.rng.IntN(len(m.s.p.passages))
}

// around picks passages of the same part, or of one that overlaps it.
func (m *improver) around(i, n int) []int {
	q := &m.s.p.parts[m.s.p.passages[i].part]
	out := append(m.lifted[:0], i)
	for range 3 * n {
		if len(out) >= n {
			break
		}
		if k := q.first + m.rng.IntN(q.last-q.first); !slices.Contains(out, k) {
			out = append(out, k)
		}
	}
	return out
}

// onDays picks passages that share a day with passage i.
func (m *improver) onDays(i, n int) []int {
	s := m.s
	out := append(m.lifted[:0], i)
	days := s.sched[i]
	if len(days) == 0 {
		return m.around(i, n)
	}
	day := days[m.rng.IntN(len(days))]
	var near []int
	for _, w := range s.p.parts[s.p.passages[i].part].meets {
		for k := s.p.parts[w].first; k < s.p.parts[w].last; k++ {
			if k != i && slices.ContainsFunc(s.sched[k], func(d int16) bool { return d >= day-1 && d <= day+1 }) {
				near = append(near, k)
			}
		}
	}
	for len(out) < n && len(near) > 0 {
		j := m.rng.IntN(len(near))
		out = append(out, near[j])
		near[j] = near[len(near)-1]
		near = near[:len(near)-1]
	}
	return out
}

// shake lifts the passages given and places them again in another order, with
// some noise on what the days charge; it undoes what is worse.
func (m *improver) shake(list []int) {
	s := m.s
	m.lifted = list
	before := s.score()
	m.liftAll(list)
	m.rng.Shuffle(len(list), func(a, b int) {
		list[a], list[b] = list[b], list[a]
		m.kept[a], m.kept[b] = m.kept[b], m.kept[a]
	})
	if len(list) > 1 && m.rng.IntN(2) == 0 {
		m.noise = func() float64 { return 0.7 + 0.6*m.rng.Float64() }
	}
	for _, i := range list {
		m.passage(i)
	}
	m.noise = nil
	if !m.keeps(before, s.score()) {
		for _, i := range list {
			s.lift(i)
		}
		m.restore(list)
	}
}

// reframe takes parts out and puts them back one after the other, each in the
// best of a few promising frames; it undoes what is worse.
func (m *improver) reframe(list []int) {
	s := m.s
	before := s.score()
	frames, days := m.keptFrames[:0], m.keptDays[:0]
	for _, i := range list {
		q := &s.p.parts[i]
		frames = append(frames, s.frames[i])
		days = append(days, slices.Clone(s.sched[q.first:q.last]))
		s.liftPart(i)
	}
	m.keptFrames, m.keptDays = frames, days
	for _, n := range m.rng.Perm(len(list)) {
		i := list[n]
		order := s.p.order(&s.p.parts[i])
		if m.rng.IntN(2) == 0 {
			m.rng.Shuffle(len(order), func(a, b int) { order[a], order[b] = order[b], order[a] })
		}
		want := 3
		if m.rng.IntN(3) > 0 {
			m.noise = func() float64 { return 2 * m.rng.Float64() }
			want = 1 + m.rng.IntN(4)
		}
		m.part(i, want, order)
		m.noise = nil
	}
	if m.keeps(before, s.score()) {
		return
	}
	for _, i := range list {
		s.liftPart(i)
	}
	for n, i := range list {
		s.setFrame(i, frames[n])
		for k, d := range days[n] {
			if len(d) > 0 {
				s.place(s.p.parts[i].first+k, d)
			}
		}
	}
}

// overlapping picks a part and up to n-1 others whose days meet its own.
func (m *improver) overlapping(i, n int) []int {
	meets := m.s.p.parts[i].meets
	out := []int{i}
	for _, at := range m.rng.Perm(len(meets)) {
		if k := meets[at]; k != i && len(out) < n {
			out = append(out, k)
		}
	}
	return out
}

package solver

import (
	"context"
	"math/rand/v2"
	"slices"
)

// improver betters a state by taking a few passages out and putting them back
// where they now cost least, again and again. A move that makes the score
// worse is undone. It counts moves, never seconds, so that the same seed gives
// the same plan on any machine.
type improver struct {
	inserter
	rng    *rand.Rand
	lifted []int
	kept   [][]int16
}

// newImprover works on the state given; it changes it in place.
func newImprover(s *state, seed uint64) *improver {
	m := &improver{inserter: inserter{s: s}, rng: rand.New(rand.NewPCG(seed, 0x696d70726f7665))}
	return m
}

// run makes so many moves, fewer if the context ends.
func (m *improver) run(ctx context.Context, moves int) {
	parts, passages := len(m.s.p.parts), len(m.s.p.passages)
	if parts == 0 || passages == 0 {
		return
	}
	for n := range moves {
		if n%64 == 0 && ctx.Err() != nil {
			return
		}
		switch r := m.rng.IntN(100); {
		case r < 4:
			m.reframe(m.rng.IntN(parts))
		case r < 45:
			m.shake(m.around(m.rng.IntN(passages), 2+m.rng.IntN(8)))
		case r < 80:
			m.shake(m.onDays(m.rng.IntN(passages), 2+m.rng.IntN(10)))
		default:
			m.shake(append(m.lifted[:0], m.rng.IntN(passages)))
		}
	}
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
	for k := range s.p.passages {
		if k == i || int(day) < s.p.passages[k].lo || int(day) > s.p.passages[k].hi {
			continue
		}
		for _, d := range s.sched[k] {
			if d >= day-1 && d <= day+1 {
				near = append(near, k)
				break
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
	m.kept = m.kept[:0]
	for _, i := range list {
		m.kept = append(m.kept, s.sched[i])
		s.lift(i)
	}
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
	if before.less(s.score()) {
		for _, i := range list {
			s.lift(i)
		}
		for n, i := range list {
			if len(m.kept[n]) > 0 {
				s.place(i, m.kept[n])
			}
		}
	}
}

// reframe takes a whole part out and puts it back in the best of its most
// promising frames.
func (m *improver) reframe(i int) {
	s := m.s
	q := &s.p.parts[i]
	before, f := s.score(), s.frames[i]
	days := slices.Clone(s.sched[q.first:q.last])
	s.liftPart(i)
	order := s.p.order(q)
	if m.rng.IntN(2) == 0 {
		m.rng.Shuffle(len(order), func(a, b int) { order[a], order[b] = order[b], order[a] })
	}
	m.part(i, 3, order)
	if before.less(s.score()) {
		s.liftPart(i)
		s.setFrame(i, f)
		for k, d := range days {
			if len(d) > 0 {
				s.place(q.first+k, d)
			}
		}
	}
}

package construct

import (
	"slices"

	"primaprova/solver/instance"
)

// pick chooses a passage: half of the time among the worst.
func (m *Annealer) pick() int {
	if len(m.worst) > 0 && m.rng.IntN(2) == 0 {
		return m.worst[m.rng.IntN(len(m.worst))]
	}
	if len(m.Free) > 0 && m.rng.IntN(4) > 0 {
		return m.Free[m.rng.IntN(len(m.Free))]
	}
	return m.rng.IntN(len(m.S.P.Passages))
}

// around picks passages of the same part, or of one that overlaps it.
func (m *Annealer) around(i, n int) []int {
	q := &m.S.P.Parts[m.S.P.Passages[i].Part]
	out := append(m.lifted[:0], i)
	for range 3 * n {
		if len(out) >= n {
			break
		}
		if k := q.First + m.rng.IntN(q.Last-q.First); !slices.Contains(out, k) {
			out = append(out, k)
		}
	}
	return out
}

// onDays picks passages that share a day with passage i.
func (m *Annealer) onDays(i, n int) []int {
	s := m.S
	out := append(m.lifted[:0], i)
	days := s.Sched[i]
	if len(days) == 0 {
		return m.around(i, n)
	}
	day := days[m.rng.IntN(len(days))]
	var near []int
	for _, w := range s.P.Parts[s.P.Passages[i].Part].Meets {
		for k := s.P.Parts[w].First; k < s.P.Parts[w].Last; k++ {
			if k != i && slices.ContainsFunc(s.Sched[k], func(d instance.Day) bool { return d >= day-1 && d <= day+1 }) {
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
func (m *Annealer) shake(list []int) {
	s := m.S
	m.lifted = list
	before := s.Score()
	m.liftAll(list)
	m.rng.Shuffle(len(list), func(a, b int) {
		list[a], list[b] = list[b], list[a]
		m.kept[a], m.kept[b] = m.kept[b], m.kept[a]
	})
	if len(list) > 1 && m.rng.IntN(2) == 0 {
		m.noise = func() float64 { return 0.7 + 0.6*m.rng.Float64() }
	}
	for _, i := range list {
		m.Passage(i)
	}
	m.noise = nil
	if !m.keeps(before, s.Score()) {
		for _, i := range list {
			s.Lift(i)
		}
		m.restore(list)
	}
}

// reframe takes parts out and puts them back one after the other, each in the
// best of a few promising frames; it undoes what is worse.
func (m *Annealer) reframe(list []int) {
	s := m.S
	before := s.Score()
	frames, days := m.keptFrames[:0], m.keptDays[:0]
	for _, i := range list {
		q := &s.P.Parts[i]
		frames = append(frames, s.Frames[i])
		days = append(days, slices.Clone(s.Sched[q.First:q.Last]))
		s.LiftPart(i)
	}
	m.keptFrames, m.keptDays = frames, days
	for _, n := range m.rng.Perm(len(list)) {
		i := list[n]
		order := s.P.Order(&s.P.Parts[i])
		if m.rng.IntN(2) == 0 {
			m.rng.Shuffle(len(order), func(a, b int) { order[a], order[b] = order[b], order[a] })
		}
		want := 3
		if m.rng.IntN(3) > 0 {
			m.noise = func() float64 { return 2 * m.rng.Float64() }
			want = 1 + m.rng.IntN(4)
		}
		m.Part(i, want, order)
		m.noise = nil
	}
	if m.keeps(before, s.Score()) {
		return
	}
	for _, i := range list {
		s.LiftPart(i)
	}
	for n, i := range list {
		s.SetFrame(i, frames[n])
		for k, d := range days[n] {
			if len(d) > 0 {
				s.Place(s.P.Parts[i].First+k, d)
			}
		}
	}
}

// overlapping picks a part and up to n-1 others whose days meet its own.
func (m *Annealer) overlapping(i, n int) []int {
	meets := m.S.P.Parts[i].Meets
	out := []int{i}
	for _, at := range m.rng.Perm(len(meets)) {
		if k := meets[at]; k != i && len(out) < n {
			out = append(out, k)
		}
	}
	return out
}

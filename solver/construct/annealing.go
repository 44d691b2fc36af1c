package construct

import (
	"context"
	"math"
	"math/rand/v2"

	"primaprova/model"
	"primaprova/solver/instance"
)

// Annealer betters a solution by taking a few passages out and putting them back
// where they now cost least, again and again. It works at one wish, its goal,
// and never lets a wish before it rise above where it stood. A move that costs
// more is kept with a chance that falls as the work goes on (simulated
// annealing: Kirkpatrick, Gelatt, Vecchi, Science 220, 671-680, 1983); in the
// end the best solution in the order of the wishes stays. It counts moves, never
// seconds, so that the same seed gives the same plan on any machine.
type Annealer struct {
	Inserter
	rng        *rand.Rand
	goal       model.Wish
	limit      instance.Score // what the wishes before the goal may cost
	soft       bool           // the solution began above a limit
	heat       float64        // cost that a move may add, in units of the goal
	Free       []int          // passages that may move without cost, where most may not; empty: all alike
	lifted     []int
	worst      []int // passages that cost something in the goal
	kept       [][]instance.Day
	keptFrames []instance.Frame
	keptDays   [][][]instance.Day
}

// NewAnnealer works on the solution given; it changes it in place.
func NewAnnealer(s *instance.Solution, seed uint64) *Annealer {
	return &Annealer{Inserter: Inserter{S: s, By: instance.InOrder}, rng: rand.New(rand.NewPCG(seed, 0x696d70726f7665))}
}

// Run works at one wish with so many moves, fewer if the context ends or the
// goal is met. The solution is in the end the best one found for the goal of those
// that cost no more in the wishes before it.
func (m *Annealer) Run(ctx context.Context, goal model.Wish, moves int) {
	m.Towards(ctx, goal, m.S.Score(), moves)
}

// Towards is run with limits of its own: the solution may stand above them at
// first, and is brought below them on the way.
func (m *Annealer) Towards(ctx context.Context, goal model.Wish, limit instance.Score, moves int) {
	if len(m.S.P.Passages) == 0 {
		return
	}
	tuned := m.S.P.Params
	g := &tuned.Anneal[goal]
	if m.soft = !limit.Allows(m.S.Score(), goal); m.soft {
		g = &tuned.Mending
	}
	m.goal, m.By, m.limit = goal, instance.ChargeOf(g.Charge), limit
	best, bestScore := m.S.Clone(), m.S.Score()
	allowed := !m.soft
	for n := range moves {
		if n%128 == 0 {
			now := m.S.Score()
			if ok := m.limit.Allows(now, goal); ok && (!allowed || now.LessFrom(bestScore, goal)) {
				best, bestScore, allowed = m.S.Clone(), now, true
			}
			if ctx.Err() != nil || allowed && bestScore[goal] == 0 {
				break
			}
			m.heat = g.Heat * math.Pow(g.Cold/g.Heat, float64(n)/float64(moves))
			m.findWorst()
			m.weigh(now)
		}
		i := m.pick()
		switch r := m.rng.IntN(100); {
		case r < g.Reframe:
			m.reframe(m.overlapping(m.S.P.Passages[i].Part, 1+m.rng.IntN(3)))
		case r < g.Reframe+g.Nudge:
			m.nudge(m.S.P.Passages[i].Part)
		case r < tuned.Around:
			m.shake(m.around(i, 2+m.rng.IntN(4)))
		case r < tuned.OnDays:
			m.shake(m.onDays(i, 2+m.rng.IntN(6)))
		default:
			m.shake(append(m.lifted[:0], i))
		}
	}
	if now := m.S.Score(); allowed && !(m.limit.Allows(now, goal) && now.LessFrom(bestScore, goal)) {
		*m.S = *best
	}
}

// weigh sets what the wishes before the goal cost: a little more whenever there
// is too much of one, a little less otherwise. For body that takes the place of
// a hard limit, which would leave hardly a move open, since nearly every one
// shifts minutes; for the others only while the solution stands above a limit.
func (m *Annealer) weigh(now instance.Score) {
	set := func(j model.Wish, w *float64, least, most float64) {
		if now[j] > m.limit[j] {
			*w = min(most, *w*1.02)
		} else {
			*w = max(least, *w/1.01)
		}
	}
	if m.goal == model.Spacing {
		set(model.Body, &m.By.Body, 0.5, 100)
	}
	if m.soft {
		set(model.Coverage, &m.By.Coverage, 100, 1e6)
		set(model.ReadyBy, &m.By.Ready, 30, 1e5)
	}
}

// keeps tells whether a move from one score to another stands.
func (m *Annealer) keeps(from, to instance.Score) bool {
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
func (m *Annealer) cost(s instance.Score) float64 {
	w := [5]float64{m.By.Coverage, m.By.Ready, m.By.Closeness, m.By.Body, m.By.Spacing}
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
func (m *Annealer) findWorst() {
	m.worst = m.worst[:0]
	for i := range m.S.P.Passages {
		if m.S.P.ScheduleScore(&m.S.P.Passages[i], m.S.Sched[i])[m.goal] > 0 {
			m.worst = append(m.worst, i)
		}
	}
}

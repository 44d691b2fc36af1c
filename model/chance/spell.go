package chance

import (
	"slices"

	"primaprova/model"
)

// spells is what a season asks of the days after some that are lost in a row: the way
// back (model.Return), without the ceilings of its weeks.
type spells struct {
	need  int           // lost days and days off running, one of them lost, after which it begins; more than there are where it never does
	first model.Minutes // percent of what was usual, on its first day
	rise  model.Minutes
	idle  []bool    // by day: it belongs to a spell already
	lost  []bool    // by day: lost by the record
	cap   []float64 // by day
	known []float64 // by day before today: what was played in all, 0 where nothing was
}

// inAll gives all playing of a day with so much of it planned, a warm-up with that (model.Season has the same).
func (t *table) inAll(d int, planned float64) float64 {
	if planned > 0 {
		planned += t.warmUp
	}
	return t.services[d] + planned
}

// newSpells reads them from a season with its record.
func (t *table) newSpells(s *model.Season, h *model.History) spells {
	n, r := s.Days(), s.Limits.Return
	w := spells{first: model.Minutes(r.First), rise: r.Rise, idle: make([]bool, n), lost: make([]bool, n), known: make([]float64, n)}
	if w.need = n + 1; r.After > 0 {
		w.need = r.After
		if r.Ill > 0 {
			w.need = min(r.After, r.Ill)
		}
	}
	for i := range n {
		d := s.From + model.Date(i)
		w.idle[i] = s.Idle(d, h)
		w.lost[i] = h != nil && h.Days[d] == model.Lost
		w.cap = append(w.cap, float64(s.Limits.Playing.On(d)))
		if h != nil && d < h.Today && !w.idle[i] {
			w.known[i] = t.inAll(i, float64(h.Played[d]))
		}
	}
	return w
}

// spell gives the first day of the spell that a day ends, and whether the way back
// begins after it.
func (g *game) spell(d int) (from int, back bool) {
	w, lost := &g.t.spells, false
	for from = d; from >= 0 && (w.idle[from] || g.lost[from]); from-- {
		lost = lost || w.lost[from] || g.lost[from]
	}
	return from + 1, lost && d-from >= w.need
}

// before gives what was usual in the weeks before a spell, and the fullest of their
// days, the cap where too little is known of them; model.Season then looks at what stood planned after it, too.
func (g *game) before(from int) (usual, fullest float64) {
	sum, n := 0.0, 0
	for _, m := range g.played[max(0, from-7*model.WeeksBefore):from] {
		if m > 0 {
			sum, n, fullest = sum+m, n+1, max(fullest, m)
		}
	}
	if n < model.KnownDays {
		return g.t.spells.cap[from], g.t.spells.cap[from]
	}
	return sum / float64(n), fullest
}

// easeIn takes room off the days after a spell that a day ends. What does not fit on them
// any more loses its day: it is to be planned again.
func (g *game) easeIn(d int) {
	from, back := g.spell(d)
	if !back {
		return
	}
	usual, fullest := g.before(from)
	w := &g.t.spells
	way := model.Back{From: g.t.from + model.Date(d+1), Level: model.Minutes(usual) * w.first / 100, Full: model.Minutes(fullest)}
	for e := d + 1; e < g.t.days; e++ {
		most, on := way.Step(g.t.from+model.Date(e), w.rise)
		if !on || most >= model.NoLimit {
			return
		}
		g.room[e].playing = min(g.room[e].playing, max(0, float64(most)-g.t.services[e]-g.t.warmUp))
		if g.load[e].playing <= g.room[e].playing+nothing {
			continue
		}
		list := slices.Clone(g.days[e])
		slices.SortFunc(list, g.sooner)
		for i := len(list) - 1; i >= 0 && g.load[e].playing > g.room[e].playing+nothing; i-- {
			if k := list[i]; g.tasks[k].stage.Playing() {
				g.takeOff(k)
				g.failed = append(g.failed, k)
			}
		}
	}
}

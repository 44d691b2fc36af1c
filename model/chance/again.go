package chance

import (
	"math/rand/v2"

	"primaprova/model"
	"primaprova/model/memory"
)

// part enters a part and its passages.
func (t *table) part(s *model.Season, h *model.History, w, estimate *model.PartWork) int {
	n := len(t.parts)
	due := int(w.Due - t.from)
	p := partOf{name: w.Name, due: due, last: due, ready: s.ReadyDays(w.Part), comes: int(w.Part.Arrives - t.from), awaited: int(w.Part.Arrives-t.from) > t.today, finds: w.Read == 0 && w.Part.Estimate == 0}
	for i := range w.Passages {
		q := &w.Passages[i]
		recipe := len(s.Recipe(&q.Passage))
		o := passageOf{part: n, hard: q.Passage.Hard, stand: stand{visits: len(q.Done)}, needs: max(1, recipe-1), asked: !q.Passage.Upkeep && !q.Over && len(q.Recipe) > 0}
		if h != nil {
			o.stand.failed = h.Failed[q.Name]
			if h.Dropped[q.Name] {
				o.needs = 0
			}
		}
		if n := len(q.Done); n > 0 {
			o.stand.last = int(q.Done[n-1] - t.from)
		}
		// What comes back: see model.History.Again.
		back := recipe + 1 - model.TakenUpAt(recipe)
		for k := max(0, len(q.Recipe)-back); k < len(q.Recipe); k++ {
			least, _ := s.Habits.Gap(&q.Passage, len(o.again))
			v := &q.Recipe[k]
			o.again = append(o.again, visit{float64(estimate.Passages[i].Recipe[k].Minutes), float64(v.Minutes), least, worth(v.Value, v.Minutes)})
		}
		t.passages = append(t.passages, o)
	}
	t.parts = append(t.parts, p)
	return n
}

// worth is what one of its minutes is worth.
func worth(value int, m model.Minutes) float64 { return float64(value) / max(1, float64(m)) }

// passage gives the number of a passage of the part entered last.
func (t *table) passage(part int, w *model.PartWork, name string) int {
	for i := range w.Passages {
		if w.Passages[i].Name == name {
			return len(t.passages) - len(w.Passages) + i
		}
	}
	return none
}

// mayFind makes ready for passages that read-throughs find.
func (t *table) mayFind(s *model.Season, h *model.History) {
	for hard := 1; hard <= 3; hard++ {
		ratio := 1.0
		if h != nil && h.Scaled {
			if r, counts := h.Learnt.Ratio(model.Effort{Stage: model.PassageStage, Hard: hard}); counts {
				ratio = r
			}
		}
		for _, v := range s.Recipe(&model.Passage{Hard: hard}) {
			t.found[hard] = append(t.found[hard], visit{float64(v.Minutes), ratio * float64(v.Minutes), v.Least, worth(v.Value, v.Minutes)})
		}
	}
	t.unfound = len(t.passages)
	for n := range t.parts {
		for range mostFound {
			t.passages = append(t.passages, passageOf{part: n})
		}
	}
}

// checked is called when a check was done: it may not hold, and then its
// passage is taken up again from the visit before.
func (g *game) checked(k, d int) {
	t := g.t
	v := &g.tasks[k]
	q, at := &t.passages[v.passage], &g.stands[v.passage]
	hard := g.difficulty(v.passage)
	known := memory.Case{Hard: hard, Visits: max(1, at.visits), Failed: at.failed, Gap: max(1, d-at.last)}
	if t.guess.Memory == nil || uniform(t.seed, g.run, heldLuck, v.passage, at.failed) < t.guess.Memory.Holds(known) {
		return
	}
	at.failed++
	r := own(t.seed, g.run, repeatLuck, v.passage, at.failed)
	again := q.again
	if v.passage >= t.unfound {
		again = t.found[hard]
		again = again[max(0, len(again)-2):]
	}
	g.takeUp(r, *v, k, d, v.visit, hard, again)
}

// difficulty gives a passage's, also that of one that was found.
func (g *game) difficulty(passage int) int {
	if n := passage - g.t.unfound; n >= 0 {
		return g.hard[n]
	}
	return g.t.passages[passage].hard
}

// finds is called when a part was read through.
func (g *game) finds(k, d int) {
	t := g.t
	v := g.tasks[k]
	if !t.parts[v.part].finds || t.guess.Found == 0 {
		return
	}
	n := min(mostFound, poisson(uniform(t.seed, g.run, foundLuck, v.part, 0), t.guess.Found))
	for i := range n {
		r := own(t.seed, g.run, foundLuck, v.part, i+1)
		v.passage = t.unfound + v.part*mostFound + i
		v.of, v.slot = "", none
		hard := 1 + r.IntN(3)
		g.hard[v.passage-t.unfound] = hard
		g.takeUp(r, v, k, d, 0, hard, t.found[hard])
	}
}

// takeUp adds visits like v after task k, done on day d, and finds days for them.
func (g *game) takeUp(r *rand.Rand, v task, k, d, visits, hard int, list []visit) {
	kind := 1 + hard // see model.Efforts
	from := len(g.tasks)
	for i, x := range list {
		one := task{part: v.part, passage: v.passage, stage: model.PassageStage, of: v.of, slot: v.slot, order: len(g.tasks), due: v.due, minutes: x.planned, value: x.value,
			after: k, before: never, least: max(1, x.least), next: none, visit: visits + i + 1, counts: true, check: i == len(list)-1}
		if i > 0 {
			one.after = from + i - 1
			g.tasks[one.after].next = from + i
		}
		g.tasks = append(g.tasks, one)
		g.left = append(g.left, g.takes(r, kind, x.minutes))
		g.est = append(g.est, x.planned)
		g.done = append(g.done, none)
		g.at = append(g.at, none)
	}
	for i := range list {
		if !g.insert(from+i, d+1) {
			break
		}
	}
}

// takes draws what a session takes.
func (g *game) takes(r *rand.Rand, kind int, minutes float64) float64 {
	mean := g.drawn[kind] * minutes
	if scale := g.t.kinds[kind].Minute; scale > 0 && mean > 0 {
		mean = scale * gamma(r, mean/scale)
	}
	if g.t.exact {
		return minutes
	}
	return mean
}

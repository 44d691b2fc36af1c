package chance

import (
	"cmp"
	"slices"

	"primaprova/model"
)

// link says of each task of a part what it has to wait for.
func (t *table) link(part int, w *model.PartWork, habits *model.Habits) {
	listening, read, before := none, none, none
	closed := t.days // what follows from a session that an older plan doesn't hold
	afterRead := func(v *task) {
		v.after, v.least, v.since = read, 1, t.afterDone(w.Read, 1)
		if read == none && w.Read == 0 {
			v.since = closed
		}
	}
	for k := range t.tasks {
		v := &t.tasks[k]
		if v.part != part {
			continue
		}
		switch v.stage {
		case model.ListeningStage:
			if listening != none {
				v.after, v.least = listening, 1
			}
			listening = k
		case model.ReadStage:
			v.after, read = listening, k // the same day will do
		case model.RecordingsStage:
			afterRead(v)
			v.since = max(v.since, int(w.RecordingDays(habits).From-t.from))
		case model.PassageStage:
			q := w.Passage(v.of)
			v.least = q.Recipe[v.visit-1].Least
			switch done := len(q.Done); {
			case v.visit == 1:
				afterRead(v)
			case v.visit == done+1:
				v.before = int(q.Done[done-1] - t.from)
			case before == none || t.tasks[before].of != v.of || t.tasks[before].visit != v.visit-1:
				v.since = closed
			default:
				v.after, t.tasks[before].next = before, k
			}
			before = k
		}
	}
}

// afterDone gives the first day so many days after one on which something was
// done; 0 where it was not.
func (t *table) afterDone(d model.Date, days int) int {
	if d == 0 {
		return 0
	}
	return int(d-t.from) + days
}

// order puts the tasks on their days, and what is due first first.
func (t *table) order(p *model.Plan) {
	at := map[string]int{} // a day's sessions in the order in which they are played
	for _, day := range p.ByDate() {
		for i, v := range day {
			at[v.ID] = i
		}
	}
	ids := make([]string, len(t.tasks))
	list := make([]int, len(t.tasks))
	for k := range t.tasks {
		v := &t.tasks[k]
		list[k] = k
		name := v.of
		if v.stage == model.PassageStage {
			ids[k] = model.VisitID(name, v.visit)
		} else {
			ids[k] = model.StageID(t.parts[v.part].name, v.stage)
		}
	}
	slices.SortStableFunc(list, func(a, b int) int {
		x, y := &t.tasks[a], &t.tasks[b]
		return cmp.Or(cmp.Compare(x.due, y.due), cmp.Compare(x.planned, y.planned), cmp.Compare(at[ids[a]], at[ids[b]]))
	})
	t.byDay, t.load = make([][]int, t.days), make([]load, t.days)
	for i, k := range list {
		v := &t.tasks[k]
		v.order = i
		if v.planned < t.days {
			t.byDay[v.planned] = append(t.byDay[v.planned], k)
			t.load[v.planned].add(v, v.minutes, 1)
		}
	}
}

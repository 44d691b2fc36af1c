package model

import (
	"cmp"
	"slices"
)

// A happening is a session of a day, of which the record says something or the
// standing plan holds it. It is known by its name and its day: the number in an
// id is what the visit was called at the time, and later plans may give that to
// another.
type happening struct {
	SessionDay
	id      string // as it was called when it was written down
	kind    EventKind
	planned Minutes
	took    Minutes
	said    bool // by the record, not taken for granted
	tempo   Tempo
	entry   int
}

// happenings lists what was done and what was not, day by day. Of several
// lines about one session of one day one counts: see merge.go.
func (r *replay) happenings(live []Event, standing *Plan) []happening {
	planned := map[SessionDay]Minutes{} // as some line about it says
	for i := range live {
		if e := &live[i]; e.Session != "" && e.Planned != 0 {
			planned[e.Key()] = e.Planned
		}
	}
	live = Counting(live)
	at := map[SessionDay]bool{}
	said := map[string]Date{} // session id -> the last day that the record says something of it
	var out []happening
	for i := range live {
		e := &live[i]
		if e.Session == "" {
			continue
		}
		if e.Date > r.o.Today || r.o.keep && e.Date == r.o.Today {
			r.remark(e.Entry, "%s: lies ahead, on %v", e.Session, e.Date)
			continue
		}
		at[e.Key()] = true
		d := happening{e.Key(), e.Session, e.Kind, cmp.Or(e.Planned, planned[e.Key()]), e.Took, true, e.Tempo, e.Entry}
		out = append(out, d)
		said[d.id] = max(said[d.id], d.Date)
	}
	if standing != nil {
		stood := map[SessionDay]Minutes{}
		for i := range standing.Sessions {
			stood[standing.Sessions[i].Key()] = standing.Sessions[i].Minutes
		}
		moved := map[string]bool{} // ids done on a day on which the plan does not have them: it has them where they are not done
		for i := range out {
			m, as := stood[out[i].SessionDay]
			out[i].planned = cmp.Or(out[i].planned, m)
			moved[out[i].id] = moved[out[i].id] || !as && out[i].kind != NotDone
		}
		for i := range standing.Sessions {
			v := &standing.Sessions[i]
			if !at[v.Key()] && r.stood(v) && said[v.ID] < v.Date && !moved[v.ID] {
				out = append(out, happening{SessionDay: v.Key(), id: v.ID, kind: Done, planned: v.Minutes})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b happening) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.id, b.id))
	})
	return out
}

// stood tells whether a session of which the record says nothing counts: it was
// taken as done, or it stands on the day that is kept.
func (r *replay) stood(v *Session) bool {
	switch _, _, _, ok := splitID(v.ID); {
	case !ok || v.Date >= r.o.Today:
		return false
	case r.o.keep && v.Date == r.o.Today-1:
		return true
	}
	return r.o.TakeAsDone && !r.silent[v.Date]
}

// happen enters one session. A visit is the next one of its passage, whatever
// it was called: what was worked at is what was worked at.
func (r *replay) happen(d *happening) {
	h := r.h
	if d.said {
		h.Said[d.Date] = true
	}
	if d.kind == NotDone {
		// What was refused today is not asked for again today.
		if d.Date == r.o.Today {
			h.Refused[d.Name] = true
		}
		return
	}
	_, stage, _, _ := splitID(d.id)
	effort, estimate := Effort{Stage: stage}, Minutes(0)
	if stage == PassageStage {
		q, known := r.passage(d.Name)
		var recipe []Visit
		if known {
			p, part := r.s.part(partOf(d.Name))
			recipe = r.s.comeBack(&q, r.s.Recipe(&q), r.s.span(p, part, &q))
			effort.Hard = q.Hard
		} else if d.said {
			r.remark(d.entry, "%s: the season has no such passage", d.Name)
		}
		next := max(1, r.next[d.Name])
		if len(recipe) > 0 {
			estimate = recipe[min(next, len(recipe))-1].Minutes
		}
		if d.said && next >= len(recipe) {
			r.check(d, q.Hard)
		}
		h.Visits[d.Name] = append(h.Visits[d.Name], d.Date)
		r.next[d.Name] = next + 1
		h.Anew[d.Name]++
		if d.tempo != 0 || d.kind == DidNotHold {
			h.Tempos[VisitID(d.Name, len(h.Visits[d.Name]))] = d.tempo
		}
		if d.kind == DidNotHold {
			r.next[d.Name] = TakenUpAt(min(next, max(1, len(recipe))))
			h.Anew[d.Name] = 0
			h.Failed[d.Name]++
		}
	} else {
		if _, part := r.s.part(partOf(d.Name)); part != nil {
			estimate = map[Stage]Minutes{ReadStage: part.ReadThrough, RecordingsStage: part.Recordings}[stage]
			all := r.s.sittings(part)
			for k, m := range all {
				if SittingID(partOf(d.Name), k+1, len(all)) == d.Name {
					estimate = m
				}
			}
		} else if d.said {
			r.remark(d.entry, "%s: the season has no such part", d.Name)
		}
		if h.Stages[d.Name] == 0 {
			h.Stages[d.Name] = d.Date
		}
	}
	took := cmp.Or(d.took, d.planned, estimate)
	if stage.Playing() {
		h.Played[d.Date] += took
	}
	if stage == PassageStage {
		did := r.h.worked[partOf(d.Name)]
		if did.took += took; d.said {
			did.recorded++
		}
		r.h.worked[partOf(d.Name)] = did
	}
	if d.said && estimate > 0 {
		h.Learnt.add(effort, estimate, took)
		if d.took > 0 {
			h.Learnt.addTimed(effort, estimate, d.took)
		}
	}
	if !d.said {
		h.Taken = append(h.Taken, d.SessionDay)
	}
}

// check enters what a last visit told. Of one that is the first, or on the day of the one
// before, nothing is known of what a pause leaves.
func (r *replay) check(d *happening, hard int) {
	before := r.h.Visits[d.Name]
	if n := len(before); n > 0 && before[n-1] < d.Date && hard > 0 {
		r.h.Checks = append(r.h.Checks, Check{d.Name, d.Date, hard, n, r.h.Failed[d.Name], int(d.Date - before[n-1]), d.kind == Done})
	}
}

// TakenUpAt gives the visit of its recipe from which a passage goes on when
// visit k did not hold: one before, so that it is worked at once more before it
// is checked again, and not from the first but where that itself did not hold,
// since much of it stays. Common practice, no source.
func TakenUpAt(k int) int { return min(k, max(2, k-1)) }

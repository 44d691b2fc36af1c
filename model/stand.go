package model

import "fmt"

// Stand says how far a plan and the record get with a part. Whoever says when a
// part is ready takes it from here.
type Stand struct {
	Part  string   // programme/part
	Last  Date     // of its last visit, upkeep apart, or its read-through, planned or done; zero: there is none
	Ready Date     // Last where nothing is lacking but recordings and upkeep, else zero
	For   For      // the first of its dates after Last, where all of it is read and worked at, visits it may lack; else zero
	Lacks []Wanted // what is asked for and neither planned nor done
	Over  bool     // nothing of it lies ahead: what it lacks is no matter of the plan any more
}

// Stands gives each part's stand, in the order of the season file. Plan and
// history may be nil.
func (s *Season) Stands(p *Plan, h *History) []Stand {
	today := s.From
	if h != nil {
		today = h.Today
	}
	placed, last := map[string]bool{}, map[string]Date{}
	if p != nil {
		for i := range p.Sessions {
			v := &p.Sessions[i]
			if v.Date < today {
				continue // it was done or it was not: the record knows
			}
			placed[v.ID] = true
			if v.Stage == ReadStage || v.Stage == PassageStage && !v.upkeep() {
				last[v.Part] = max(last[v.Part], v.Date)
			}
		}
	}
	work := s.Work(h)
	out := make([]Stand, len(work))
	for i := range work {
		w := &work[i]
		t := Stand{Part: w.Name, Last: max(w.Read, last[w.Name]), Over: w.past()}
		for j := range w.Passages {
			for _, d := range w.Passages[j].Done {
				if !w.Passages[j].Passage.Upkeep {
					t.Last = max(t.Last, d)
				}
			}
		}
		ready, worked := true, t.Last != 0
		for _, x := range s.undone(w, false) {
			if !placed[x.ID] {
				t.Lacks = append(t.Lacks, x)
				left := x.LeftOut()
				ready = ready && (x.Stage == RecordingsStage || left.upkeep())
				worked = worked && !left.Untouched()
			}
		}
		if ready {
			t.Ready = t.Last
		}
		if worked {
			t.For = w.NextDate(t.Last + 1)
		}
		out[i] = t
	}
	return out
}

// For is a date that a part is prepared for.
type For struct {
	Kind  ServiceKind
	Date  Date
	First bool // it is the first of the part's dates
}

// NextDate gives the first of the part's dates from a day on, zero where none is.
func (w *PartWork) NextDate(from Date) For {
	for i, v := range w.Programme.Dates(w.Part.ID) {
		if v.Date >= from {
			return For{v.Kind, v.Date, i == 0}
		}
	}
	return For{}
}

// Target gives the date that the part is read for.
func (w *PartWork) Target() For { return w.NextDate(w.Due) }

// For says what a part is ready for: "the first rehearsal, Tue 9 Feb", "the concert,
// Fri 12 Feb"; nothing where it is ready for none of its dates.
func (l Locale) For(f For) string {
	switch {
	case f.Date == 0:
		return ""
	case f.First && f.Kind.Rehearses():
		return fmt.Sprintf("the first %v, %s", f.Kind, l.Day(f.Date))
	}
	return fmt.Sprintf("the %v, %s", f.Kind, l.Day(f.Date))
}

// Later gives what a part is ready for where that is not its first rehearsal or lesson:
// a later date, or one that nothing is rehearsed for; zero where there is nothing to
// say of it.
func (t *Stand) Later() For {
	if t.Over || t.For.First && t.For.Kind.Rehearses() {
		return For{}
	}
	return t.For
}

// past tells whether nothing of a part lies ahead any more.
func (w *PartWork) past() bool {
	for i := range w.Passages {
		if !w.Passages[i].Over {
			return false
		}
	}
	return w.Over
}

// Together gives when several parts are ready, zero unless all of them are, and
// how many sessions they lack.
func Together(stands []Stand) (ready Date, lacks int) {
	whole := true
	for i := range stands {
		whole = whole && stands[i].Ready != 0
		ready = max(ready, stands[i].Ready)
		lacks += len(stands[i].Lacks)
	}
	if !whole {
		ready = 0
	}
	return ready, lacks
}

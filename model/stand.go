package model

// Stand says how far a plan and the record get with a part. Whoever says when a
// part is ready takes it from here.
type Stand struct {
	Part  string   // programme/part
	Last  Date     // of its last visit, or its read-through, planned or done; zero: there is none
	Ready Date     // Last where nothing is lacking but recordings, else zero
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
			if v.Stage == PassageStage || v.Stage == ReadStage {
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
				t.Last = max(t.Last, d)
			}
		}
		ready := true
		for _, x := range s.undone(w, false) {
			if !placed[x.ID] {
				t.Lacks = append(t.Lacks, x)
				ready = ready && x.Stage == RecordingsStage
			}
		}
		if ready {
			t.Ready = t.Last
		}
		out[i] = t
	}
	return out
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

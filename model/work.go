package model

import "slices"

// PartWork is one part with everything that is to be planned for it: what the
// season file says, with the estimate turned into unnamed passages and the
// record taken off. Solver and audit both start from here.
type PartWork struct {
	Name      string // programme/part
	Programme *Programme
	Part      *Part
	Window    Range // days of listening, read-through and recordings; may be empty
	Ready     Date  // the ready-by date
	Passages  []PassageWork
	// What the record says was done, zero while it lies ahead.
	Listened, Read, Recorded Date
}

// PassageWork is one passage with its recipe and days.
type PassageWork struct {
	Name     string // programme/part/passage
	Passage  Passage
	Recipe   []Visit
	Deadline Date   // first day that is too late
	Ready    Date   // last day on which its last visit costs nothing
	Fresh    Date   // first day on which its last visit costs nothing
	Done     []Date // days of the visits that the record says were done, in order
}

// Work gives the parts in the order of the season file. The history may be nil.
func (s *Season) Work(h *History) []PartWork {
	var out []PartWork
	for i := range s.Programmes {
		p := &s.Programmes[i]
		first := p.FirstRehearsal()
		for j := range p.Parts {
			out = append(out, s.partWork(p, &p.Parts[j], first, h))
		}
	}
	return out
}

func (s *Season) partWork(p *Programme, part *Part, first Date, h *History) PartWork {
	w := PartWork{
		Name:      PartName(p.ID, part.ID),
		Programme: p,
		Part:      part,
		Window:    Range{max(part.Arrives, s.From), min(first-1, s.To)},
		Ready:     first - Date(s.Habits.ReadyDays),
	}
	if h != nil {
		w.Part = h.scaled(part, s)
		w.Listened, w.Read, w.Recorded = h.stageDays(w.Name)
		if w.Read != 0 && w.Listened == 0 {
			w.Listened = w.Read // too late to listen first: no longer wanted
		}
	}
	for _, ps := range s.passages(part, h, w.Name) {
		deadline := first
		if ps.Due != 0 {
			deadline = ps.Due
		}
		deadline = min(deadline, s.To+1)
		pw := PassageWork{
			Name:     PassageName(w.Name, ps.ID),
			Passage:  ps,
			Recipe:   s.Recipe(&ps),
			Deadline: deadline,
			Ready:    deadline - Date(s.Habits.ReadyDays),
			Fresh:    deadline - Date(s.Habits.FreshDays),
		}
		if h != nil {
			h.apply(&pw, s)
		}
		w.Passages = append(w.Passages, pw)
	}
	return w
}

// passages gives the named passages and as many unnamed ones of the ordinary
// recipe as the rest of the estimate asks for. What was found later takes the
// place of unnamed ones, since the estimate spoke of it.
func (s *Season) passages(part *Part, h *History, name string) []Passage {
	out := slices.Clone(part.Passages)
	if h != nil {
		out = withFound(part.Passages, h.found(name))
	}
	if part.Estimate == 0 {
		return out
	}
	left := part.Estimate
	for i := range out {
		left -= RecipeMinutes(s.Recipe(&out[i]))
	}
	ordinary := Passage{Hard: 2, Unnamed: true}
	each := RecipeMinutes(s.Recipe(&ordinary))
	n := int((left + each/2) / each)
	if n < 1 && len(out) == 0 {
		n = 1
	}
	for i := 1; i <= n; i++ {
		u := ordinary
		u.ID = UnnamedID(i)
		out = append(out, u)
	}
	return out
}

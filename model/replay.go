package model

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
)

// Replaying says how a record is read.
type Replaying struct {
	Today Date // days before it are past
	// TakeAsDone takes a planned session of a day gone by for done as planned
	// when the record is silent about it. Who forgets to record should not be
	// given everything again; who records faithfully may want it otherwise.
	// Nothing is taken as done on a day lost or of pain.
	TakeAsDone bool
	Scaled     bool // plan what lies ahead with what was learnt

	keep bool // the day before Today has begun and stays as it stands; see Resume
}

// A Remark is an event that could not be made sense of with the season as it
// now is. It is passed over, and the player told.
type Remark struct {
	Entry int
	Text  string
}

// Replay turns a record into a history. The standing plan says what was to be
// done on days gone by; it may be nil. Events that hold no longer, because an
// undo takes them back, have no effect. The same arguments always give the
// same history.
func (s *Season) Replay(events []Event, standing *Plan, o Replaying) (*History, []Remark) {
	r := &replay{s: s, o: o, next: map[string]int{}, passages: map[string]Passage{}, silent: map[Date]bool{},
		h: &History{Today: o.Today, Stages: map[string]Date{}, Visits: map[string][]Date{}, Found: map[string][]Passage{}, Met: map[string]Date{}, Refused: map[string]bool{},
			Dropped: map[string]bool{}, Failed: map[string]int{}, Tempos: map[string]Tempo{}, Again: map[string]int{}, Anew: map[string]int{}, Played: map[Date]Minutes{}, Days: map[Date]DayNote{}, Learnt: s.taught(), Scaled: o.Scaled, Notes: map[Date]string{}, Missed: map[Date]bool{}, Stood: map[Date]Minutes{}, worked: map[string]worked{}, Said: map[Date]bool{}}}
	if o.keep {
		r.h.Kept = o.Today - 1
	}
	live := Standing(events)
	r.know()
	for i := range live {
		if live[i].Kind == Better {
			r.better = append(r.better, live[i].Date)
		}
	}
	for i := range live {
		r.note(&live[i])
	}
	happenings := r.happenings(live, standing)
	for _, d := range happenings {
		r.happen(&d)
	}
	r.met(live, happenings)
	for name, next := range r.next {
		if done := len(r.h.Visits[name]); next != done+1 {
			r.h.Again[name] = next
		}
	}
	return r.h, r.remarks
}

type replay struct {
	s        *Season
	o        Replaying
	h        *History
	passages map[string]Passage // by name
	next     map[string]int     // passage name -> visit of its recipe (from 1) that comes next
	silent   map[Date]bool      // days on which nothing is taken as done: lost ones and those of pain, not the light day after
	better   []Date             // days from which on spells without an end are over
	remarks  []Remark
}

func (r *replay) remark(entry int, format string, args ...any) {
	r.remarks = append(r.remarks, Remark{entry, fmt.Sprintf(format, args...)})
}

// know lists the passages of the season file.
func (r *replay) know() {
	for i := range r.s.Programmes {
		p := &r.s.Programmes[i]
		for j := range p.Parts {
			name := PartName(p.ID, p.Parts[j].ID)
			for _, q := range p.Parts[j].Passages {
				r.passages[PassageName(name, q.ID)] = q
			}
		}
	}
}

// note takes in what is no session's matter.
func (r *replay) note(e *Event) {
	h := r.h
	switch e.Kind {
	case DayLost, Pain:
		r.spell(e)
	case Found:
		r.found(e)
	case NotNeeded:
		if part := e.Passage[:strings.LastIndexByte(e.Passage, '/')]; !r.hasPart(part) {
			r.remark(e.Entry, "%s: the season has no part %s", e.Passage, part)
		}
		h.Dropped[e.Passage] = true
	}
}

func (r *replay) hasPart(name string) bool {
	programme, part := r.s.part(name)
	return programme != nil && part != nil
}

// part finds a part by its name, programme/part.
func (s *Season) part(name string) (*Programme, *Part) {
	for i := range s.Programmes {
		p := &s.Programmes[i]
		part, ok := strings.CutPrefix(name, PartName(p.ID, ""))
		if !ok {
			continue
		}
		for j := range p.Parts {
			if p.Parts[j].ID == part {
				return p, &p.Parts[j]
			}
		}
	}
	return nil, nil
}

func (r *replay) passage(name string) (Passage, bool) {
	if q, ok := r.passages[name]; ok {
		return q, true
	}
	at := strings.LastIndexByte(name, '/')
	_, part := r.s.part(name[:at])
	if of, concert, ok := upkept(name[at+1:]); ok && part != nil {
		q, known := r.passages[name[:at+1]+of]
		return r.s.upkeep(&q, concert), known
	}
	if part == nil || part.Estimate == 0 || !strings.HasPrefix(name[at+1:], "unnamed-") {
		return Passage{}, false
	}
	for _, q := range r.s.passages(part, r.h, name[:at]) {
		if q.ID == name[at+1:] {
			return q, true
		}
	}
	return Passage{ID: name[at+1:], Hard: 2, Unnamed: true}, true // others have taken its place
}

// sortedKeys gives a map's keys in their order.
func sortedKeys[K cmp.Ordered, V any](m map[K]V) []K { return slices.Sorted(maps.Keys(m)) }

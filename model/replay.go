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
	r := &replay{s: s, o: o, minutes: map[string]Minutes{}, next: map[string]int{}, passages: map[string]Passage{}, silent: map[Date]bool{},
		h: &History{Today: o.Today, Stages: map[string]Date{}, Visits: map[string][]Date{}, Found: map[string][]Passage{},
			Dropped: map[string]bool{}, Tempos: map[string]Tempo{}, Again: map[string]int{}, Anew: map[string]int{}, Played: map[Date]Minutes{}, Days: map[Date]DayNote{}, Learnt: Learnt{}, Scaled: o.Scaled}}
	live := Standing(events)
	r.know()
	for i := range live {
		r.note(&live[i])
	}
	for _, d := range r.happenings(live, standing) {
		r.happen(&d)
	}
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
	minutes  map[string]Minutes // session id -> length in the standing plan
	silent   map[Date]bool      // days on which nothing is taken as done: lost ones and those of pain, not the light day after
	remarks  []Remark
}

// happening is a session of a day on which something can be said of it.
type happening struct {
	date    Date
	id      string
	kind    EventKind
	planned Minutes
	took    Minutes
	said    bool // by the record, not taken for granted
	tempo   Tempo
	entry   int
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
	case DayLost:
		h.Days[e.Date] = Lost
		r.silent[e.Date] = true
	case Pain:
		r.silent[e.Date] = true
		for d := e.Date; d <= e.Date+1; d++ {
			h.Days[d] = max(h.Days[d], Light)
		}
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

// found adds a passage to its part. It is due at the programme's next service
// after the day on which it was found, a rehearsal or a concert, unless the
// player says otherwise. Once the season file has it, the file counts.
func (r *replay) found(e *Event) {
	p, _ := r.s.part(e.Part)
	name := PassageName(e.Part, e.Bars)
	if p == nil {
		r.remark(e.Entry, "%s: the season has no part %s", e.Bars, e.Part)
		return
	}
	if _, known := r.passages[name]; known {
		return
	}
	q := Passage{ID: e.Bars, Bars: e.Bars, Hard: e.Hard, Exposed: e.Exposed, Minutes: e.Took, Found: e.Date, Due: e.Due}
	if q.Due == 0 {
		if q.Due = p.NextService(e.Date); q.Due == 0 {
			r.remark(e.Entry, "%s: no service of %s comes after %v: it cannot be planned", name, p.ID, e.Date)
		}
	}
	r.passages[name] = q
	r.h.Found[e.Part] = append(r.h.Found[e.Part], q)
}

// NextService gives the date of the programme's next rehearsal or concert
// after a date, or the zero Date.
func (p *Programme) NextService(after Date) Date {
	var next Date
	for _, v := range p.Services {
		if v.Date > after && (next == 0 || v.Date < next) {
			next = v.Date
		}
	}
	return next
}

// happenings lists what was done and what was not, day by day. Of several
// lines about one session of one day the last one counts.
func (r *replay) happenings(live []Event, standing *Plan) []happening {
	type key struct {
		id   string
		date Date
	}
	at := map[key]int{}
	said := map[string]Date{}         // session id -> the last day that the record says something of it
	worked := map[dayOfPassage]bool{} // days on which it speaks of a passage, as whichever visit
	var out []happening
	for i := range live {
		e := &live[i]
		if e.Session == "" {
			if e.Kind == Found {
				// What is found is found playing the part: it has been read by then.
				out = append(out, happening{date: e.Date, id: StageID(e.Part, ReadStage), kind: Found, entry: e.Entry})
			}
			continue
		}
		if e.Date > r.o.Today {
			r.remark(e.Entry, "%s: lies ahead, on %v", e.Session, e.Date)
			continue
		}
		d := happening{e.Date, e.Session, e.Kind, e.Planned, e.Took, true, e.Tempo, e.Entry}
		if n, twice := at[key{d.id, d.date}]; twice {
			if d.planned == 0 {
				d.planned = out[n].planned
			}
			out[n] = d
			continue
		}
		at[key{d.id, d.date}] = len(out)
		said[d.id] = max(said[d.id], d.date)
		if name, _, _, ok := splitID(d.id); ok {
			worked[dayOfPassage{name, d.date}] = true
		}
		out = append(out, d)
	}
	if standing != nil {
		for i := range standing.Sessions {
			v := &standing.Sessions[i]
			r.minutes[v.ID] = v.Minutes
			name, stage, _, ok := splitID(v.ID)
			if stage == PassageStage && worked[dayOfPassage{name, v.Date}] {
				continue // a visit that was made in place of one missed has that one's name by now
			}
			if !ok || v.Date >= r.o.Today || !r.o.TakeAsDone || said[v.ID] >= v.Date || r.silent[v.Date] {
				continue
			}
			out = append(out, happening{date: v.Date, id: v.ID, kind: Done, planned: v.Minutes})
		}
	}
	slices.SortStableFunc(out, func(a, b happening) int {
		return cmp.Or(cmp.Compare(a.date, b.date), cmp.Compare(a.id, b.id))
	})
	return out
}

// happen enters one session. A visit counts when it is one more than were done
// before; its minutes count in any case. When one before it was missed it
// counts as that one: what was worked at is what was worked at.
func (r *replay) happen(d *happening) {
	if d.kind == NotDone {
		return
	}
	h := r.h
	name, stage, visit, _ := splitID(d.id)
	if d.kind == Found {
		if h.Stages[d.id] == 0 {
			h.Stages[d.id] = d.date
		}
		return
	}
	effort, estimate := Effort{Stage: stage}, Minutes(0)
	if stage == PassageStage {
		q, known := r.passage(name)
		var recipe []Visit
		if known {
			recipe = r.s.Recipe(&q)
			effort.Hard = q.Hard
		} else if d.said {
			r.remark(d.entry, "%s: the season has no such passage", name)
		}
		if r.next[name] == 0 {
			r.next[name] = 1
		}
		next := r.next[name]
		if len(recipe) > 0 {
			estimate = recipe[min(next, len(recipe))-1].Minutes
		}
		if visit > len(h.Visits[name]) {
			h.Visits[name] = append(h.Visits[name], d.date)
			r.next[name] = next + 1
			h.Anew[name]++
		} else {
			next = max(1, next-1) // said again of a visit entered before
		}
		if d.tempo != 0 || d.kind == DidNotHold {
			h.Tempos[VisitID(name, len(h.Visits[name]))] = d.tempo
		}
		if d.kind == DidNotHold {
			r.next[name] = takenUpAt(min(next, max(1, len(recipe))))
			h.Anew[name] = 0
		}
	} else {
		if _, part := r.s.part(name); part != nil {
			estimate = map[Stage]Minutes{ListeningStage: part.Listening, ReadStage: part.ReadThrough, RecordingsStage: part.Recordings}[stage]
		} else if d.said {
			r.remark(d.entry, "%s: the season has no such part", name)
		}
		if h.Stages[d.id] == 0 {
			h.Stages[d.id] = d.date
		}
	}
	took := cmp.Or(d.took, d.planned, r.minutes[d.id], estimate)
	if stage.Playing() {
		h.Played[d.date] += took
	}
	if d.said && estimate > 0 {
		h.Learnt.add(effort, estimate, took)
		if d.took > 0 {
			h.Learnt.addTimed(effort, estimate, d.took)
		}
	}
	if !d.said {
		h.Taken = append(h.Taken, d.id)
	}
}

// takenUpAt gives the visit of its recipe from which a passage goes on when
// visit k did not hold: one before, so that it is worked at once more before it
// is checked again, and never from the first, since much of it stays. Common
// practice, no source.
func takenUpAt(k int) int { return min(k, max(2, k-1)) }

func (r *replay) passage(name string) (Passage, bool) {
	if q, ok := r.passages[name]; ok {
		return q, true
	}
	at := strings.LastIndexByte(name, '/')
	if !strings.HasPrefix(name[at+1:], "unnamed-") {
		return Passage{}, false
	}
	_, part := r.s.part(name[:at])
	return Passage{ID: name[at+1:], Hard: 2, Unnamed: true}, part != nil && part.Estimate > 0
}

// sortedKeys gives a map's keys in their order.
func sortedKeys[K cmp.Ordered, V any](m map[K]V) []K { return slices.Sorted(maps.Keys(m)) }

package model

import (
	"cmp"
	"strings"
	"sync"
)

// View is a season with its record and its plan, looked up by names and days. Whoever shows
// them, on a screen, on paper or in a calendar, reads from here. A plan may be older than its
// season: what it plans for a part that is gone keeps its name.
type View struct {
	Season  *Season
	Plan    *Plan    // nil: there is none
	History *History // nil: nothing has happened

	Work     []PartWork              // in the order of the season file
	Parts    map[string]*PartWork    // by programme/part
	Passages map[string]*PassageWork // by programme/part/passage
	Days     map[Date][]*Session     // in the order of each day
	Looks    []Look                  // of the programmes, in the order of the season file
	Recorded map[SessionDay]*Event   // what counts of sessions in the record; see Know
	loads    func() *Loads
	stood    func() map[string]*Stand // by part
	ofPart   func() map[string][]*Session
}

// View looks at a season, the one with its record (With), with a plan and its record; both
// may be nil.
func (s *Season) View(p *Plan, h *History) *View {
	v := &View{Season: s, Plan: p, History: h, Work: s.Work(h), Looks: s.Looks(), Days: map[Date][]*Session{},
		Parts: map[string]*PartWork{}, Passages: map[string]*PassageWork{}}
	for i := range v.Work {
		w := &v.Work[i]
		v.Parts[w.Name] = w
		for j := range w.Passages {
			v.Passages[w.Passages[j].Name] = &w.Passages[j]
		}
	}
	if p != nil {
		v.Days = p.ByDate()
	}
	v.loads = sync.OnceValue(func() *Loads { return s.Loads(p) })
	v.stood = sync.OnceValue(func() map[string]*Stand {
		out := map[string]*Stand{}
		if p == nil {
			return out
		}
		stands := s.Stands(p, h)
		for i := range stands {
			out[stands[i].Part] = &stands[i]
		}
		return out
	})
	v.ofPart = sync.OnceValue(func() map[string][]*Session {
		out := map[string][]*Session{}
		for _, d := range sortedKeys(v.Days) {
			for _, x := range v.Days[d] {
				out[x.Part] = append(out[x.Part], x)
			}
		}
		return out
	})
	return v
}

// Loads gives the load of each day of the season.
func (v *View) Loads() *Loads { return v.loads() }

// Know takes in what the record says of sessions, and gives all of it that counts.
func (v *View) Know(events []Event) []Event {
	v.Recorded = map[SessionDay]*Event{}
	live := Counting(Standing(events))
	for i := range live {
		if live[i].Session != "" {
			v.Recorded[live[i].Key()] = &live[i]
		}
	}
	return live
}

// OfPart gives a part's sessions in the order of their days.
func (v *View) OfPart(part string) []*Session { return v.ofPart()[part] }

// Stand gives how far plan and record get with a part, nil without a plan, and of one that the
// season has not.
func (v *View) Stand(part string) *Stand { return v.stood()[part] }

// LeftOut gives what is lacking of a part.
func (v *View) LeftOut(part string) []*Unplaced {
	var out []*Unplaced
	if t := v.Stand(part); t != nil {
		for i := range t.Lacks {
			u := t.Lacks[i].LeftOut()
			out = append(out, &u)
		}
	}
	return out
}

// Together gives when all parts of a programme are ready, zero unless they are, and how many
// sessions they lack. There has to be a plan.
func (v *View) Together(p *Programme) (ready Date, lacks int) {
	var stands []Stand
	for i := range v.Work {
		if v.Work[i].Programme == p {
			stands = append(stands, *v.Stand(v.Work[i].Name))
		}
	}
	return Together(stands)
}

// Programme gives a programme by its id, with its look; nil where the season has none.
func (v *View) Programme(id string) (*Programme, Look) {
	for i := range v.Season.Programmes {
		if p := &v.Season.Programmes[i]; p.ID == id {
			return p, v.Looks[i]
		}
	}
	return nil, Look{}
}

// Title gives the title of a part's work, or the part's name where the season has neither.
func (v *View) Title(part string) string {
	if w := v.Parts[part]; w != nil {
		return cmp.Or(w.Part.Work, part)
	}
	return part
}

// ShortTitle gives it without what stands in brackets.
func (v *View) ShortTitle(part string) string { return ShortTitle(v.Title(part)) }

// Bars names a passage for the player, also one that the season has no more.
func (v *View) Bars(passage string) string {
	if q := v.Passages[passage]; q != nil {
		return q.Passage.Where()
	}
	return passage[strings.LastIndexByte(passage, '/')+1:]
}

// Nature tells what is not ordinary of a passage, like "hard, exposed"; nothing is known of
// those that an estimate stands for.
func (p *Passage) Nature() string {
	if p.Unnamed {
		return ""
	}
	return Nature(p.Hard, p.Exposed)
}

// Nature tells a difficulty where it is not the ordinary one, and whether a passage is exposed.
func Nature(hard int, exposed bool) string {
	out := map[int]string{1: "easy", 3: "hard"}[hard]
	if exposed {
		out = strings.TrimPrefix(out+", exposed", ", ")
	}
	return out
}

// NextFirst gives the programme whose first rehearsal comes next, on a day or after it; nil
// where none does.
func (s *Season) NextFirst(day Date) *Programme {
	var next *Programme
	for i := range s.Programmes {
		if p := &s.Programmes[i]; p.FirstRehearsal() >= day && (next == nil || p.FirstRehearsal() < next.FirstRehearsal()) {
			next = p
		}
	}
	return next
}

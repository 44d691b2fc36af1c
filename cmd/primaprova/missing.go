package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"primaprova/model"
)

// missing counts what lies ahead and is not in the plan, as a player would.
type missing struct {
	stages     []string // of them listening and read-throughs, by work
	untouched  int      // passages that are worked at not once
	visits     int      // visits of other passages, the last one apart
	checks     int      // last visits of other passages
	recordings int
	minutes    model.Minutes
}

func (w *view) missing() (m missing, sessions int) {
	planned := map[string]bool{} // passages that have a visit, planned or done
	for name, p := range w.Passages {
		planned[name] = len(p.Done) > 0
	}
	for _, s := range w.Plan.Sessions {
		if s.Passage != nil {
			planned[*s.Passage] = true
		}
	}
	untouched := map[string]bool{}
	for i := range w.Work {
		t := w.Stand(w.Work[i].Name)
		if t.Over {
			continue
		}
		for _, x := range t.Lacks {
			sessions++
			m.minutes += x.Minutes
			switch {
			case x.Stage == model.RecordingsStage:
				m.recordings++
			case x.Stage != model.PassageStage:
				m.stages = append(m.stages, string(x.Stage)+" of "+w.ShortTitle(x.Part))
			case !planned[x.Passage]:
				untouched[x.Passage] = true
			case x.Visit == x.Visits:
				m.checks++
			default:
				m.visits++
			}
		}
	}
	m.untouched = len(untouched)
	return m, sessions
}

// sayMissing says what is not in the plan: what is not worked at at all apart
// from a last check less.
//
// It says too whether that is more than in the plan that stood; nil: none did.
func (w *view) sayMissing(stood *model.Plan) {
	m, sessions := w.missing()
	if sessions == 0 {
		w.say.line("Nothing is left out.")
		return
	}
	var out []string
	const named = 2
	for i, s := range m.stages {
		if i == named && len(m.stages) > named+1 {
			out = append(out, fmt.Sprintf("%d more of listening and reading", len(m.stages)-named))
			break
		}
		out = append(out, s)
	}
	say := func(n int, one, many string) {
		if n > 0 {
			out = append(out, several(n, one, many))
		}
	}
	say(m.untouched, "passage that is not worked at", "passages that are not worked at")
	say(m.visits, "visit", "visits")
	say(m.checks, "last check", "last checks")
	say(m.recordings, "return to the recordings", "returns to the recordings")
	tail := ""
	if m.untouched == 0 && len(m.stages) == 0 {
		tail = "; no read-through is, and no passage as a whole"
	}
	if stood != nil {
		before := 0
		for _, u := range stood.Unplaced {
			if t := w.Stand(u.Part); t != nil && !t.Over {
				before++
			}
		}
		if sessions > before {
			tail = fmt.Sprintf(", %d more than before", sessions-before) + tail
		}
	}
	w.say.line("Left out are %s (%s)%s.", strings.Join(out, ", "), m.minutes, tail)
}

// timeWords says what is late and how well visits are spread.
func (w *view) timeWords() string {
	late, by, apart, visits := 0, model.Date(0), 0, 0
	for i := range w.Work {
		if t := w.Stand(w.Work[i].Name); t != nil && t.Over {
			continue
		}
		days := map[string]map[int]model.Date{}
		for _, s := range w.OfPart(w.Work[i].Name) {
			if s.Passage == nil || s.Visit == nil {
				continue
			}
			if days[*s.Passage] == nil {
				days[*s.Passage] = map[int]model.Date{}
			}
			days[*s.Passage][*s.Visit] = s.Date
		}
		for j := range w.Work[i].Passages {
			p := &w.Work[i].Passages[j]
			var before, last model.Date
			for k := range p.Recipe {
				on := days[p.Name][k+1]
				if k < len(p.Done) {
					before = p.Done[k]
					continue
				}
				if on == 0 {
					before = 0
					continue
				}
				visits++
				if before != 0 && int(on-before) > p.Recipe[k].Preferred {
					apart++
				}
				before, last = on, max(last, on)
			}
			if last > p.Ready {
				late++
				by = max(by, last-p.Ready)
			}
		}
	}
	out := "Every passage is done by its ready-by date"
	if _, lacks := w.missing(); lacks > 0 {
		out = "What is planned is done by the ready-by dates"
	}
	if late > 0 {
		out = fmt.Sprintf("%s after the ready-by date, by %s at most", several(late, "passage is done", "passages are done"), several(int(by), "day", "days"))
	}
	if visits == 0 {
		return "No visit lies ahead."
	}
	if apart == 0 {
		return out + "; no visit comes later after the one before than preferred."
	}
	return out + fmt.Sprintf("; %d of %s later after the one before than preferred.", apart, several(visits, "visit", "visits"))
}

// sayReadyFor names the parts that are read and worked at, but not by a first
// rehearsal: for the next of their dates, or for a concert that nothing is
// rehearsed for. Those of one date share a line.
func (w *view) sayReadyFor(all []programmeView) {
	parts := map[model.For][]string{}
	for _, p := range all {
		for _, s := range p.Parts {
			t := w.Stand(s.Part)
			if t == nil || t.Later().Date == 0 {
				continue
			}
			title := s.Work
			if n := len(t.Lacks); n > 0 {
				title += " (less " + several(n, "session", "sessions") + ")"
			}
			f := t.Later()
			f.First = false // it makes no difference to a concert
			parts[f] = append(parts[f], title)
		}
	}
	dates := make([]model.For, 0, len(parts))
	for f := range parts {
		dates = append(dates, f)
	}
	slices.SortFunc(dates, func(a, b model.For) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.Kind, b.Kind))
	})
	for _, f := range dates {
		w.say.line("Ready for %s: %s.", w.say.locale.For(f), strings.Join(parts[f], ", "))
	}
}

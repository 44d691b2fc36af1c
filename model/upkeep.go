package model

import "strings"

// Between the concerts of a run nothing new is learnt, and what was hard or lies
// open goes first. So before a concert that comes UpkeepAfter days or more after
// the service before it, each hard or exposed passage is played once more, short,
// in those last days. Common practice, no source.

// upkeepFresh is how many days before a concert an upkeep costs nothing.
const upkeepFresh = 2

// upkeepWord begins the ids of such passages, which stand beside those that they keep up.
const upkeepWord = "upkeep-"

// UpkeepID names what keeps a passage up before the concert of a day.
func UpkeepID(concert Date, passage string) string {
	return upkeepWord + concert.String() + "-" + passage
}

// upkept gives the id of the passage that an upkeep is of, and the concert's day.
func upkept(id string) (passage string, concert Date, ok bool) {
	rest, ok := strings.CutPrefix(id, upkeepWord)
	if !ok || len(rest) < len("2027-01-14-x") {
		return "", 0, false
	}
	concert, err := ParseDate(rest[:10])
	return rest[11:], concert, err == nil && rest[10] == '-'
}

// upkeep adds to a part's work the visits that keep its passages up.
func (u *due) upkeep(w *PartWork, h *History) {
	hb := &u.s.Habits
	if hb.Upkeep == 0 {
		return
	}
	named := w.Passages
	for i := 1; i < len(u.dates); i++ {
		concert, before := u.dates[i], u.dates[i-1].Date
		if concert.Kind.Rehearses() || before < w.Due || int(concert.Date-before) < hb.UpkeepAfter {
			continue
		}
		for j := range named {
			q := named[j].Passage
			if q.Unnamed || q.Found >= concert.Date || !q.Exposed && q.Hard < 3 || h != nil && h.Dropped[named[j].Name] {
				continue
			}
			up := u.s.upkeep(&q, concert.Date)
			p := PassageWork{Name: PassageName(w.Name, up.ID), Passage: up, Recipe: u.s.Recipe(&up)}
			if h != nil {
				h.apply(&p, u.s, 0)
			}
			p.Deadline = min(up.Due, u.s.To+1)
			p.Ready, p.Fresh = p.Deadline, p.Deadline-upkeepFresh
			p.Over = up.Due <= u.today
			w.Passages = append(w.Passages, p)
		}
	}
}

// upkeep gives what keeps a passage up before the concert of a day.
func (s *Season) upkeep(q *Passage, concert Date) Passage {
	return Passage{ID: UpkeepID(concert, q.ID), Bars: q.Bars, Hard: q.Hard, Exposed: q.Exposed, Visits: []Minutes{s.Habits.Upkeep},
		Due: concert, Found: concert - Date(s.Habits.UpkeepAfter) + 1, Upkeep: true}
}

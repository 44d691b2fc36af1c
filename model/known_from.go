package model

import (
	"cmp"
	"slices"
)

// Source says where a part's passages were taken over from, for people.
type Source struct {
	Words      string // "tide/slate from ../2025/season.yaml: 5 passages, 2 of which did not hold then"
	Instrument string // of that season
}

// LastPlayed gives the day on which a part was last played in a season that lies behind:
// of the last work at it that is recorded, or of the last service that played it.
func LastPlayed(w *PartWork, h *History, to Date) Date {
	last := w.Read
	if w.Unread {
		last = 0
	}
	for i := range w.Passages {
		for _, d := range w.Passages[i].Done {
			last = max(last, d)
		}
	}
	for _, v := range w.Programme.Dates(w.Part.ID) {
		if !v.Missed && v.Date <= to {
			last = max(last, v.Date)
		}
	}
	return last
}

// TakeOver gives a part the passages of another season's, as its record left them: with
// the minutes that their first visit took, and one harder where a visit did not hold.
// Its own passages stay, and so do its minutes and its estimate; an estimate comes where
// it says nothing at all. It counts what came, and what of that did not hold.
func (p *Part) TakeOver(w *PartWork, h *History, events []Event, step Minutes) (taken, hard int) {
	took, failed := map[string]Minutes{}, map[string]bool{}
	for _, e := range Counting(Standing(events)) {
		name, stage, visit, ok := splitID(e.Session)
		if !ok || stage != PassageStage {
			continue
		}
		failed[name] = failed[name] || e.Kind == DidNotHold
		if visit == 1 && e.Kind != NotDone && e.Took > 0 {
			took[name] = cmp.Or(took[name], e.Took.ToStep(step))
		}
	}
	if len(p.Passages) == 0 && p.Estimate == 0 {
		p.Estimate = w.Part.Estimate
	}
	for i := range w.Passages {
		old := &w.Passages[i]
		q := old.Passage
		if q.Unnamed || q.Upkeep || h.Dropped[old.Name] || slices.ContainsFunc(p.Passages, func(own Passage) bool { return own.ID == q.ID }) {
			continue
		}
		q = Passage{ID: q.ID, Bars: q.Bars, Hard: q.Hard, Exposed: q.Exposed, Minutes: cmp.Or(took[old.Name], q.Minutes), Daily: q.Daily, Tempo: Pace{Goal: q.Tempo.Goal}, Strains: q.Strains}
		if failed[old.Name] {
			q.Hard = min(3, q.Hard+1)
			hard++
		}
		p.Passages = append(p.Passages, q)
		taken++
	}
	return taken, hard
}

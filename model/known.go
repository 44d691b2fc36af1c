package model

import (
	"cmp"
	"math"
	"slices"
)

// Known work. Of what was once learnt some is kept: all of it in the fingers, else half
// after some 11 months and half of that after 11 more. That is what is lost of skills
// with the hands where nothing is done for them, in the mean of accuracy and speed
// (Tatel and Ackerman, Psychological Bulletin, 2025). What is kept need not be learnt
// again, and what is lost comes back sooner than it came (savings: Ebbinghaus 1885;
// Murre and Dros, PLoS ONE 10, e0120644, 2015). So of a known passage
//
//	first estimate × (1 − kept/2)        visits − round(2 × kept), of several two at least
//
// are wanted, and of a part's estimate the same share. The halves and the two visits are
// common practice, no source. Listening and read-through stay.

// halfKept is the number of days after which half is kept, 11 months.
const halfKept = 335

// Kept gives how much of a part is kept, in percent, that was last played on a day and
// comes again on another.
func Kept(played, again Date) int {
	return int(math.Round(100 * math.Exp2(-float64(max(0, again-played))/halfKept)))
}

// shortened takes off a length what is kept.
func shortened(length, kept int) int { return (length*(200-kept) + 100) / 200 }

// fewer takes off a number of visits what is kept.
func fewer(visits, kept int) int { return max(min(visits, 2), visits-(2*kept+50)/100) }

// estimated gives what all visits of a part take together, known as it is; 0 where only
// the named ones count.
func (p *Part) estimated() Minutes {
	if p.Estimate == 0 {
		return 0
	}
	return max(1, Minutes(shortened(int(p.Estimate), p.Kept)))
}

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

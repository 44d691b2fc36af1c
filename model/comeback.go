package model

// A list of excerpts comes back. What is learnt weeks or months before it is asked for
// is taken up again after ever longer gaps, each twice the one before, until the days
// are through: short visits, the last of them near the date. Tests of gaps that grow
// against even ones found next to no difference at the end (Latimier, Peyre and Ramus
// 2021), but that growing ones keep more alive meanwhile (Kang, Lindsey, Mozer and
// Pashler, Psychonomic Bulletin & Review, 2014), with fewer visits than even gaps as
// short as the first. That they double is common practice, no source.

// span gives the days over which the visits of a passage that comes back lie at the most,
// from the day after its part's first to the ready-by date of the part's last; 0 where
// it does not come back.
func (s *Season) span(p *Programme, part *Part, q *Passage) int {
	if !part.ComesBack {
		return 0
	}
	last := q.Due
	for i := range p.Services {
		if v := &p.Services[i]; q.Due == 0 && v.plays(part.ID) {
			last = max(last, v.Date)
		}
	}
	return max(0, int(min(last, s.To+1)-max(part.Arrives, s.From, q.Found)-1)-s.Habits.ReadyDays)
}

// comeBack goes on with a recipe over so many days. Its lengths are those of an upkeep,
// or of the last visit where there is none.
func (s *Season) comeBack(q *Passage, recipe []Visit, span int) []Visit {
	h := &s.Habits
	n := len(recipe)
	if span == 0 || n == 0 {
		return recipe
	}
	minutes := recipe[n-1].Minutes
	if h.Upkeep > 0 {
		minutes = deal([]int{100 * int(h.Upkeep)}, h.Step)[0]
	}
	weight := q.Hard
	if q.Exposed {
		weight += h.ExposedWeight
	}
	from, gap := 0, at(h.PreferredGaps, 0)
	for k := 1; k < n; k++ {
		gap = recipe[k].Preferred
		from += gap
	}
	for len(recipe) < mostVisits && span-from >= max(1, gap) {
		next := min(2*max(1, gap), span-from)
		least := max(1, next/2)
		if q.Daily {
			least = 1
		}
		recipe = append(recipe, Visit{Minutes: minutes, Least: least, Preferred: next, Value: worth(weight*at(h.VisitValues, len(recipe)), minutes)})
		from, gap = from+next, next
	}
	return recipe
}

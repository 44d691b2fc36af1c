package model

import (
	"cmp"
	"slices"
)

// Where days are short for certain, something stays undone. Left to what sessions are worth, last checks
// of many parts go, and none of those parts is whole. With Habits.WholeParts as few parts as possible give
// way, so that the others are whole, and they do so with their visits from the third on: nothing stays
// unread, and nothing is worked at once where others are worked at five times.
//
// Which ones: a part's visits from the third on are one job, due with the part. By due date one after the
// other is taken, beside the read-throughs, first and second visits of all; whenever a stretch of days
// can't hold what has been taken (demandTest), the longest of those that lie in it is given up. For one
// machine and jobs that can all begin at once that gives the fewest late ones (Moore, An n job, one machine
// sequencing algorithm for minimizing the number of late jobs, Management Science 15, 102-109, 1968; in
// Hodgson's form; from memory); here it is a rule of thumb. As work is done the longest stays the longest,
// so that nobody's turn changes for nothing.

// sparing is how many visits of a passage never give way.
const sparing = 2

// giveWay marks the parts that give way, and what they give way with: worth next to nothing, the third
// visit a little more than those after it.
func (s *Season) giveWay(work []PartWork, h *History) {
	today := s.Today(h)
	var taken []job
	var asked [][]job // by part
	var order []int
	for i := range work {
		first, rest, whole := s.shares(&work[i], today)
		taken, asked = append(taken, first...), append(asked, rest)
		if work[i].GivesWay = !whole; whole && len(rest) > 0 {
			order = append(order, i)
		}
	}
	if len(order) > 0 {
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(work[a].Due, work[b].Due) })
		for _, i := range fewest(order, taken, asked, s.playingRooms(today)) {
			work[i].GivesWay = true
		}
	}
	for i := range work {
		for j := range work[i].Passages {
			if recipe := work[i].Passages[j].Recipe; work[i].GivesWay && len(recipe) > sparing {
				for k := range recipe[sparing:] {
					v := &recipe[sparing+k]
					v.Value = min(v.Value, max(1, 2-k))
				}
			}
		}
	}
}

// fewest gives the parts that give way, of those in the order given.
func fewest(order []int, taken []job, asked [][]job, rooms []Minutes) (out []int) {
	length := func(i int) (sum Minutes) {
		for _, j := range asked[i] {
			sum += j.minutes
		}
		return sum
	}
	var stay []int
	for _, i := range order {
		stay = append(stay, i)
		for {
			all := slices.Clone(taken)
			for _, k := range stay {
				all = append(all, asked[k]...)
			}
			t := demandTest(all, rooms, 1, leastSlack)[0]
			longest := -1
			for at, k := range stay {
				in := slices.ContainsFunc(asked[k], func(j job) bool { return t.first <= j.first && j.last <= t.last })
				if in && (longest < 0 || length(k) > length(stay[longest])) {
					longest = at
				}
			}
			if t.slack() >= 0 || longest < 0 {
				break
			}
			out = append(out, stay[longest])
			stay = slices.Delete(stay, longest, longest+1)
		}
	}
	return out
}

// shares parts a part's playing ahead into what never gives way and the rest, and tells whether each
// passage still has the days for all its visits.
func (s *Season) shares(w *PartWork, today Date) (first, rest []job, whole bool) {
	add := func(to *[]job, m Minutes, days Range) {
		j := s.job(m, days, today)
		if m > 0 && j.first <= j.last {
			*to = append(*to, j)
		}
	}
	if w.Read == 0 && !w.Over {
		add(&first, w.Part.ReadThrough, w.Window)
	}
	whole = true
	for i := range w.Passages {
		p := &w.Passages[i]
		n := min(len(p.Done), len(p.Recipe))
		if p.Over || n == len(p.Recipe) {
			continue
		}
		days := w.VisitDays(p)
		at := max(days.From, today)
		if n > 0 {
			at = max(at, p.Done[len(p.Done)-1]+Date(p.Recipe[n].Least))
		}
		for _, v := range p.Recipe[n+1:] {
			at += Date(v.Least)
		}
		whole = whole && at <= days.To
		cut := max(n, min(sparing, len(p.Recipe)))
		add(&first, RecipeMinutes(p.Recipe[n:cut]), days)
		add(&rest, RecipeMinutes(p.Recipe[cut:]), days)
	}
	return first, rest, whole
}

package model

import (
	"cmp"
	"slices"
)

// Renumber gives the sessions the numbers of their day's sheet, by which the
// player names them: 1, 2, … in the order in which they are played. On days up
// to today, which may have been shown, a session keeps the number with which the
// earlier plan has it there, and one that is new comes after the highest in use.
// The sessions are put in the order of days and numbers, so that their order says
// no more than they do. The earlier plan may be nil.
func (p *Plan) Renumber(earlier *Plan, today Date) {
	had, highest := map[SessionDay]int{}, map[Date]int{}
	if earlier != nil {
		for i := range earlier.Sessions {
			if v := &earlier.Sessions[i]; v.Date <= today {
				had[v.Key()] = v.Number
				highest[v.Date] = max(highest[v.Date], v.Number)
			}
		}
	}
	for date, day := range p.ByDate() {
		for _, v := range day {
			if v.Number = had[v.Key()]; v.Number == 0 {
				highest[date]++
				v.Number = highest[date]
			}
		}
	}
	slices.SortStableFunc(p.Sessions, func(a, b Session) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.Number, b.Number))
	})
}

package model

import "cmp"

// urgency says which sessions of a day cannot wait: sessions run long, and then
// the day's cap cuts off what comes last. Common practice, no source.
type urgency struct {
	s    *Season
	last map[string]Date // session id -> its last day (Slot.Last); none for what was done
	way  map[string]int  // session id -> 1 for what gives way
}

// urgency looks at a season with its history, which may be nil.
func (s *Season) urgency(h *History) *urgency {
	u := &urgency{s: s, last: map[string]Date{}, way: map[string]int{}}
	for _, t := range s.Slots(h) {
		u.last[t.ID] = t.Last
		if t.GivesWay {
			u.way[t.ID] = 1
		}
	}
	return u
}

// before compares two sessions of one day and one stage. What gives way comes
// last, whatever its days. Else what has the fewest
// days left on which it could still lie comes first, counted back from the day
// the passage is due over the least gaps of the visits after it; of equals the
// harder passage, which wants to come early in any case; then names settle it,
// so that the order never depends on how the plan was found. What is done comes
// first of all, as it stood.
func (u *urgency) before(a, b *Session) int {
	x, xOpen := u.last[a.ID]
	y, yOpen := u.last[b.ID]
	if !xOpen && !yOpen {
		return 0
	}
	return cmp.Or(u.way[a.ID]-u.way[b.ID], cmp.Compare(x, y), u.s.Pressing(b)-u.s.Pressing(a), cmp.Compare(a.ID, b.ID))
}

package model

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"slices"
)

// CalendarKey gives 16 hexadecimal digits made of the season's title, first day
// and instrument. Calendar entries carry it, so that the same session id in two
// seasons is two entries. Whoever makes the first plan of a season keeps it in
// Plan.Calendar; Follow hands it on, so that a title put right later does not
// turn every entry into a new one.
func (s *Season) CalendarKey() string {
	sum := sha256.Sum256([]byte(s.Title + "\x00" + s.From.String() + "\x00" + s.Instrument))
	return hex.EncodeToString(sum[:8])
}

// Follow writes into p what a calendar must be told when p takes the place of
// an earlier plan. A calendar knows a session by its id and takes an entry for
// newer than its own when the sequence is higher (RFC 5545, section 3.8.7.4;
// RFC 5546, section 2.1.4). So, against the earlier plan:
//
//   - a session that is the same keeps its sequence;
//   - one that moved or changed its length has a sequence one higher;
//   - one that is gone is listed in Cancelled, one higher;
//   - one that was cancelled and is back is one above its cancellation;
//   - a new one begins with 0.
//
// Days get the same treatment in ChangedDays, for calendars with one entry a
// day or for each block: an entry counts as gone when the day has no session, or
// fewer blocks, left.
//
// A sequence only ever rises, and rises with every change. A calendar that took
// in some of the earlier plans, in order, and now takes in p thus ends up with p.
//
// Both plans must hold the whole season, days gone by included: what p leaves
// out is cancelled. A nil earlier plan makes p the first. Calling Follow again
// with the same earlier plan changes nothing.
func (p *Plan) Follow(earlier *Plan) {
	p.Cancelled, p.ChangedDays = nil, nil
	if earlier == nil {
		for i := range p.Sessions {
			p.Sessions[i].Sequence = 0
		}
		return
	}
	if earlier.Calendar != "" {
		p.Calendar = earlier.Calendar
	}
	p.followSessions(earlier)
	p.followDays(earlier)
}

func (p *Plan) followSessions(earlier *Plan) {
	stood := make(map[string]*Session, len(earlier.Sessions))
	for i := range earlier.Sessions {
		stood[earlier.Sessions[i].ID] = &earlier.Sessions[i]
	}
	gone := make(map[string]*Cancelled, len(earlier.Cancelled))
	for i := range earlier.Cancelled {
		gone[earlier.Cancelled[i].ID] = &earlier.Cancelled[i]
	}
	here := make(map[string]bool, len(p.Sessions))
	for i := range p.Sessions {
		s := &p.Sessions[i]
		here[s.ID] = true
		s.Sequence = 0
		if e := stood[s.ID]; e != nil {
			s.Sequence = e.Sequence
			if !s.sameEntry(e) {
				s.Sequence++
			}
		} else if c := gone[s.ID]; c != nil {
			s.Sequence = c.Sequence + 1
		}
	}
	for _, c := range earlier.Cancelled {
		if !here[c.ID] {
			p.Cancelled = append(p.Cancelled, c)
		}
	}
	for _, e := range earlier.Sessions {
		if !here[e.ID] {
			p.Cancelled = append(p.Cancelled,
				Cancelled{ID: e.ID, Date: e.Date, Start: e.Start, Minutes: e.Minutes, Sequence: e.Sequence + 1})
		}
	}
	slices.SortFunc(p.Cancelled, func(a, b Cancelled) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.ID, b.ID))
	})
}

// sameEntry tells whether a calendar would show the two alike. The number of
// visits belongs to it, since an entry says "visit 2 of 4"; all else that is
// shown follows from the id.
func (s *Session) sameEntry(e *Session) bool {
	return s.ID == e.ID && s.Date == e.Date && s.Minutes == e.Minutes &&
		equal(s.Start, e.Start) && equal(s.Ends, e.Ends) && equal(s.Visits, e.Visits)
}

func equal[T comparable](a, b *T) bool {
	return a == b || a != nil && b != nil && *a == *b
}

func (p *Plan) followDays(earlier *Plan) {
	count := make(map[Date]int, len(earlier.ChangedDays))
	blocks := make(map[Date]int, len(earlier.ChangedDays))
	for _, d := range earlier.ChangedDays {
		count[d.Date], blocks[d.Date] = d.Sequence, d.Blocks
	}
	was, is := earlier.ByDate(), p.ByDate()
	for d, before := range was {
		if !slices.EqualFunc(before, is[d], func(a, b *Session) bool { return a.sameEntry(b) }) {
			count[d]++
			blocks[d] = max(blocks[d], len(Blocks(before))) // an unchanged day has as many as it had
		}
	}
	for d := range is {
		// A day without sessions so far and with a sequence was emptied by an
		// earlier plan: it comes back above its cancellation.
		if len(was[d]) == 0 && count[d] > 0 {
			count[d]++
		}
	}
	for d, n := range count {
		p.ChangedDays = append(p.ChangedDays, ChangedDay{d, n, blocks[d]})
	}
	slices.SortFunc(p.ChangedDays, func(a, b ChangedDay) int { return cmp.Compare(a.Date, b.Date) })
}

// ByDate gives the sessions of each date in the order in which they are played:
// by start, and where no hours are given by stage, then as the plan lists them.
// The pointers lead into p.
func (p *Plan) ByDate() map[Date][]*Session {
	out := make(map[Date][]*Session)
	for i := range p.Sessions {
		out[p.Sessions[i].Date] = append(out[p.Sessions[i].Date], &p.Sessions[i])
	}
	for _, day := range out {
		slices.SortStableFunc(day, func(a, b *Session) int {
			return cmp.Or(cmp.Compare(begin(a), begin(b)), cmp.Compare(stageOrder(a.Stage), stageOrder(b.Stage)))
		})
	}
	return out
}

func begin(s *Session) Clock {
	if s.Start == nil {
		return -1
	}
	return *s.Start
}

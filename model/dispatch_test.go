package model

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// dispatched gives the ids of a list, those that come forward with a plus.
func (d *Dispatch) ids() (out []string) {
	for i := range d.Sessions {
		id := d.Sessions[i].ID
		if d.Sessions[i].Stands != d.Date {
			id = "+" + id
		}
		out = append(out, id)
	}
	return out
}

// TestDispatchByHand: on a day that the dates ahead need, what comes forward stands where its
// last day has it; on one that has days enough behind it nothing does.
func TestDispatchByHand(t *testing.T) {
	s, p := fixture()
	h := &History{Today: march(5), Stages: map[string]Date{slate + "/listening": march(1), slate + "/read-through": march(2)},
		Visits: map[string][]Date{pageA: {march(3), march(4)}, pageB: {march(3)}}}
	// Ahead: A 5 and 5 min, B 10 and 10; nothing of it fills days of 50 min.
	d := s.Dispatch(p, h)
	if want := []string{pageB + "/visit-2"}; !slices.Equal(d.ids(), want) || d.Planned != 10 || d.Most != 50 || d.Pace >= 10 {
		t.Errorf("%v, planned %v, pace %v of %v; want %v", d.ids(), d.Planned, d.Pace, d.Most, want)
	}
	s.Limits.Playing = ByDay[Minutes]{Every: 20} // 10 beside the warm-up: B's visits take a day each
	h.Visits[pageA] = h.Visits[pageA][:1]        // so A has 20 min ahead, B 20: 40 of 60, six days to the 12th without Monday
	d = s.Dispatch(p, h)
	if want := []string{"+" + pageA + "/visit-2", pageB + "/visit-2"}; !slices.Equal(d.ids(), want) || d.Pace != d.Most || d.Most != 10 {
		t.Errorf("%v, pace %v of %v; want %v", d.ids(), d.Pace, d.Most, want)
	}
	if m := d.Spared(&d.Sessions[0]); m != 13 {
		t.Errorf("%v are to be spared for 10 min that come forward", m)
	}
	s.Limits.Lights = []Dated[Minutes]{{Range{march(5), march(5)}, 10}}
	if d = s.Dispatch(p, h); slices.ContainsFunc(d.Sessions, func(x Dispatched) bool { return x.Stands != d.Date }) {
		t.Errorf("%v on a light day", d.ids())
	}
}

// TestDispatchKeepsTheRules: all of a list done today, the plan's days after it stay as they
// are, no rule is broken but those of how much a day holds.
func TestDispatchKeepsTheRules(t *testing.T) {
	forward := 0
	rapid.Check(t, func(t *rapid.T) {
		s := anySeason(t)
		p := firstFit(s, nil)
		h, _ := s.Replay(nil, p, Replaying{Today: s.From + Date(rapid.IntRange(0, 10).Draw(t, "today")), TakeAsDone: true})
		s = s.With(h)
		if len(s.Audit(p, h)) > 0 {
			t.Skip("the plan doesn't keep them itself")
		}
		if rapid.Bool().Draw(t, "left out") { // what such a plan leaves out can mostly come forward: it lies early
			p.Sessions = slices.DeleteFunc(p.Sessions, func(v Session) bool { return v.Date >= h.Today })
			p.Unplaced = nil
			for _, w := range s.Wanted(h) {
				p.Unplaced = append(p.Unplaced, w.LeftOut())
			}
		}
		d := s.Dispatch(p, h)
		if d.Pace > d.Most {
			t.Errorf("pace %v of %v", d.Pace, d.Most)
		}
		moved := *p
		moved.Sessions = slices.Clone(p.Sessions)
		for i := range d.Sessions {
			x := &d.Sessions[i]
			if x.Stands == d.Date {
				continue
			}
			forward++
			moved.Sessions = slices.DeleteFunc(moved.Sessions, func(v Session) bool { return v.ID == x.ID })
			moved.Unplaced = slices.DeleteFunc(slices.Clone(moved.Unplaced), func(u Unplaced) bool { return u.ID == x.ID })
			moved.Sessions = append(moved.Sessions, x.On(d.Date))
		}
		// What the plan has on the day and the list has not waits for something on the list.
		for _, w := range s.Wanted(h) {
			on := func(v Session) bool { return v.ID == w.ID && v.Date == d.Date }
			if !slices.ContainsFunc(d.Sessions, func(x Dispatched) bool { return x.ID == w.ID }) && slices.ContainsFunc(moved.Sessions, on) {
				moved.Sessions = slices.DeleteFunc(moved.Sessions, on)
				moved.Unplaced = append(slices.Clone(moved.Unplaced), w.LeftOut())
			}
		}
		for _, b := range s.Audit(&moved, h) {
			if !slices.Contains([]RuleID{CapRule, HoursRule, WarmUpRule, AccountedRule}, b.Rule) {
				t.Errorf("%v: %v", d.ids(), b)
			}
		}
	})
	if forward < 20 {
		t.Errorf("only %d sessions come forward", forward)
	}
}

// TestPressing: a sheet points to the list for what can't wait two days and comes forward, if what
// is planned can wait longer.
func TestPressing(t *testing.T) {
	one := func(id string, last int, stands Date) Dispatched {
		return Dispatched{Slot: Slot{Wanted: Wanted{ID: id, Stage: PassageStage}, Last: march(last)}, Stands: stands}
	}
	for _, c := range []struct {
		sessions []Dispatched
		want     string
	}{
		{nil, ""},
		{[]Dispatched{one("later", 7, march(6)), one("today", 9, march(5))}, "later"},
		{[]Dispatched{one("later", 7, 0), one("today", 7, march(5))}, ""},                            // today's can wait no longer
		{[]Dispatched{one("later", 8, march(6)), one("today", 20, march(5))}, ""},                    // it can wait three days
		{[]Dispatched{one("a", 7, march(6)), one("b", 6, march(6)), one("today", 9, march(5))}, "b"}, // what can wait least
		{[]Dispatched{one("here", 5, march(5)), one("there", 20, march(5))}, ""},                     // all of it is on today
		{[]Dispatched{one("a", 6, march(6)), one("b", 9, march(6)), one("today", 6, march(5))}, ""},  // only what comes forward can
		{[]Dispatched{{Slot: Slot{Wanted: Wanted{ID: "heard", Stage: ListeningStage}, Last: march(6)}}, one("today", 9, march(5))}, ""},
	} {
		d, got := Dispatch{Date: march(5), Sessions: c.sessions}, ""
		if x := d.Pressing(); x != nil {
			got = x.ID
		}
		if got != c.want {
			t.Errorf("%v: %q, not %q", d.ids(), got, c.want)
		}
	}
}

package hours

import (
	"context"
	"fmt"
	"slices"
	"testing"
	"time"

	"primaprova/model"
	"primaprova/solver/tiny"
)

var theDay = model.NewDate(2027, time.March, 3)

// anyDay invents a season with one day's sessions, at most so many passages, in
// free hours of some size.
func anyDay(roll tiny.Die, passages, minutes int) (*model.Season, []*model.Session) {
	s := &model.Season{From: theDay, To: theDay, Limits: model.DefaultLimits(), Habits: model.DefaultHabits()}
	s.Limits.Block = model.Minutes(roll.Steps(2, 6))
	s.Limits.BlockRest = model.Minutes([]int{5, 5, 5, 10, 0}[roll(5)])
	s.Limits.WarmUp = model.Minutes(roll.Steps(0, 2))
	at := model.Clock(540 + 5*roll(6))
	for left := minutes; left >= 10; {
		length := roll.Between(10, left)
		if !roll.Once(4) {
			length = length / 5 * 5
		}
		s.Hours.Every = append(s.Hours.Every, model.Span{From: at, To: at + model.Clock(length)})
		left -= length
		at += model.Clock(length + 5*roll(8))
	}
	p := model.Programme{ID: "p"}
	if roll.Once(3) {
		h := s.Hours.Every[roll(len(s.Hours.Every))]
		p.Services = append(p.Services, model.Service{Date: theDay, Start: h.From + model.Clock(roll.Steps(2, 12)), Lasts: model.Minutes(roll.Steps(1, 6)), Playing: 50})
	}
	w, x := model.Part{ID: "w", Work: "Symphony in Slate"}, model.Part{ID: "x", Work: "Ferry Waltz"}
	var day []*model.Session
	add := func(id string, stage model.Stage, part string, m int) *model.Session {
		v := &model.Session{ID: id, Date: theDay, Stage: stage, Playing: stage.Playing(), Part: part, Minutes: model.Minutes(m)}
		day = append(day, v)
		return v
	}
	for k := range roll.Between(0, passages) {
		q := model.Passage{ID: fmt.Sprintf("q%02d", k), Hard: roll.Between(1, 3), Strains: []string{"", "left hand", "Left hand", "breath"}[roll(4)]}
		of, part := "p/w", &w
		if roll.Once(3) {
			of, part = "p/x", &x
		}
		part.Passages = append(part.Passages, q)
		name, one := of+"/"+q.ID, 1
		v := add(name+"/visit-1", model.PassageStage, of, roll.Steps(1, 4))
		v.Passage, v.Visit, v.Visits = &name, &one, &one
	}
	if roll.Once(2) {
		add("p/v/read-through", model.ReadStage, "p/v", roll.Steps(1, 8))
		if roll.Once(2) {
			add("p/v/listening", model.ListeningStage, "p/v", roll.Steps(1, 6))
		}
	}
	if roll.Once(3) {
		add("p/x/recordings", model.RecordingsStage, "p/x", roll.Steps(1, 4))
	}
	if s.Limits.WarmUp > 0 && slices.ContainsFunc(day, func(v *model.Session) bool { return v.Playing }) {
		add(model.WarmUpID(theDay), model.WarmUpStage, "", int(s.Limits.WarmUp))
	}
	p.Parts = []model.Part{w, {ID: "v"}, x}
	s.Programmes = []model.Programme{p}
	s.Habits.PartChanges = model.PartChanges(roll(3))
	if h := s.Hours.Every[roll(len(s.Hours.Every))]; roll.Once(3) {
		from := h.From + model.Clock(roll(20))
		s.Habits.ListeningHours.Every = []model.Span{{From: from, To: from + model.Clock(roll.Between(10, 60))}}
	}
	if h := s.Hours.Every[roll(len(s.Hours.Every))]; roll.Once(4) {
		s.Limits.Quiet.Every = []model.Span{{From: h.From + model.Clock(roll.Steps(0, 6)), To: 24 * 60}}
	}
	return s, day
}

// played tells minute by minute what is done, in the test's own way: which
// session, 0 for none, counted from 1.
func played(t *testing.T, sessions []*model.Session) (minutes [1441]int) {
	for i, v := range sessions {
		n := model.Minutes(0)
		for at := *v.Start; at < *v.Ends; at++ {
			if slices.ContainsFunc(v.Rests, func(r model.Span) bool { return r.From <= at && at < r.To }) {
				continue
			}
			if minutes[at] != 0 {
				t.Fatalf("%s and %s at %v", v.ID, sessions[minutes[at]-1].ID, at)
			}
			minutes[at] = i + 1
			n++
		}
		if n != v.Minutes {
			t.Fatalf("%s has %v of %v", v.ID, n, v.Minutes)
		}
	}
	return minutes
}

// judged looks at a day without anything of the solver's: free hours, blocks
// and rests, the warm-up first, what is heard before what is read.
func judged(t *testing.T, s *model.Season, sessions []*model.Session) {
	minutes := played(t, sessions)
	run, rest := model.Minutes(0), model.Minutes(0)
	var first *model.Session
	for at, k := range minutes {
		if k > 0 && !slices.ContainsFunc(s.Free(theDay), func(f model.Span) bool { return f.From <= model.Clock(at) && model.Clock(at) < f.To }) {
			t.Fatalf("%v is not free", model.Clock(at))
		}
		if k == 0 || !sessions[k-1].Playing {
			if rest++; rest >= s.Limits.BlockRest {
				run = 0
			}
			continue
		}
		if !slices.ContainsFunc(s.Playable(theDay), func(f model.Span) bool { return f.From <= model.Clock(at) && model.Clock(at) < f.To }) {
			t.Fatalf("played at %v, in quiet hours", model.Clock(at))
		}
		if first == nil {
			first = sessions[k-1]
		}
		if rest < s.Limits.BlockRest && run > 0 {
			run += rest
		}
		rest = 0
		if run++; run > s.Limits.Block && s.Limits.BlockRest > 0 {
			t.Fatalf("at %v %v without a rest", model.Clock(at), run)
		}
	}
	for _, v := range sessions {
		if v.Stage == model.WarmUpStage && first != v {
			t.Fatalf("%s before the warm-up", first.ID)
		}
		for _, r := range sessions {
			if v.Stage == model.ListeningStage && r.Stage == model.ReadStage && v.Part == r.Part && *r.Start < *v.Ends {
				t.Fatalf("%s is heard after it is read", v.Part)
			}
		}
	}
}

// Days of any kind: what the solver makes of them keeps the rules of the clock,
// is never worse than what was there, and has every visit whole and on the grid
// when it is the solver's.
func TestAnyDayLaidOut(t *testing.T) {
	l := tiny.CPSAT(t)
	laid, better, proven, again := 0, 0, 0, 0
	for seed := range 2000 {
		roll := tiny.DieOf(seed)
		s, sessions := anyDay(roll, 6, 60+20*roll(14))
		d := &day{s: s, date: theDay, sessions: sessions}
		fits := s.LayOut(theDay, sessions)
		var had model.DayCost
		if fits {
			judgedWell(t, seed, s, sessions)
			had = s.DayCost(theDay, sessions, nil)
		}
		if err := d.layOut(context.Background(), l); err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if d.proven {
			proven++
		}
		if !d.changed {
			continue
		}
		better++
		judgedWell(t, seed, s, sessions)
		c := s.DayCost(theDay, sessions, nil)
		if fits && !c.Less(had) || c[model.Whole] > 0 || c[model.OnGrid] > 0 {
			t.Fatalf("seed %d: %v after %v", seed, c, had)
		}
		laid++
		if len(sessions) < 3 || seed%4 > 0 {
			continue
		}
		// One session goes, another comes: what stays keeps the rules, and the
		// hours where they can.
		stood := clones(sessions)
		sessions = slices.Delete(sessions, 0, 1)
		s.LayOut(theDay, sessions)
		d = &day{s: s, date: theDay, sessions: sessions, stood: stood}
		if !slices.ContainsFunc(sessions, func(v *model.Session) bool { return v.Stage == model.WarmUpStage }) && s.Limits.WarmUp > 0 {
			continue // that was the warm-up
		}
		if err := d.layOut(context.Background(), l); err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		judgedWell(t, seed, s, sessions)
		// A visit less leaves a pause, which is a rest where rests are as short as
		// the grid; and playing right before a service is worth moving for.
		if at := d.stoodAt(); at != nil && s.Limits.BlockRest <= 5 && len(s.ServicesOn(theDay)) == 0 {
			again++
			if c := s.DayCost(theDay, sessions, at); c[model.Stays] > 0 {
				t.Errorf("seed %d: moved %d min though nothing had to", seed, c[model.Stays])
			}
		}
	}
	if laid < 1000 || proven < 1800 || again < 50 {
		t.Errorf("%d laid out, %d better, %d proven, %d laid out again", laid, better, proven, again)
	}
}

func judgedWell(t *testing.T, seed int, s *model.Season, sessions []*model.Session) {
	t.Helper()
	if b := s.DayBreaches(theDay, sessions); len(b) > 0 {
		t.Fatalf("seed %d: %v", seed, b)
	}
	judged(t, s, sessions)
}

func clones(sessions []*model.Session) (out []*model.Session) {
	for _, v := range sessions {
		w := *v
		out = append(out, &w)
	}
	return out
}

// exhaustive tries every start on the grid for every session in its shape, and
// gives the least cost, nil where nothing keeps the rules. Playing goes on
// without a pause or after a rest: shorter pauses help nobody.
func exhaustive(s *model.Season, sessions []*model.Session, stood map[string]model.Clock) *model.DayCost {
	var best *model.DayCost
	var place func(k int)
	place = func(k int) {
		if k == len(sessions) {
			if len(s.DayBreaches(theDay, sessions)) > 0 || pauses(s, sessions) {
				return
			}
			if c := s.DayCost(theDay, sessions, stood); c[model.Whole] == 0 && (best == nil || c.Less(*best)) {
				best = &c
			}
			return
		}
		v := sessions[k]
		for _, f := range s.Free(theDay) {
			for at := (f.From + 4) / 5 * 5; at < f.To; at += 5 {
				s.Place(v, at)
				met := slices.ContainsFunc(sessions[:k], func(o *model.Session) bool { return *o.Start < *v.Ends && *v.Start < *o.Ends })
				if !met {
					place(k + 1)
				}
			}
		}
	}
	place(0)
	return best
}

func pauses(s *model.Season, sessions []*model.Session) bool {
	var pieces []model.Span
	for _, v := range sessions {
		if v.Playing {
			pieces = append(pieces, v.Pieces()...)
		}
	}
	slices.SortFunc(pieces, func(a, b model.Span) int { return int(a.From - b.From) })
	for i := 1; i < len(pieces); i++ {
		if gap := model.Minutes(pieces[i].From - pieces[i-1].To); gap > 0 && gap < s.Limits.BlockRest {
			return true
		}
	}
	return false
}

// On small days the solver finds what trying everything finds, from nothing and
// over a layout that stood.
func TestSmallDaysLikeExhaustiveSearch(t *testing.T) {
	l := tiny.CPSAT(t)
	found, none, over := 0, 0, 0
	for seed := range 400 {
		roll := tiny.DieOf(1_000_000 + seed)
		s, sessions := anyDay(roll, 3, 40+5*roll(8))
		if len(sessions) == 0 || len(sessions) > 4 {
			continue
		}
		for i := range s.Hours.Every { // the grid's own times, as the program has them
			h := &s.Hours.Every[i]
			h.From, h.To = h.From/5*5, h.To/5*5
		}
		var stood map[string]model.Clock
		d := &day{s: s, date: theDay, sessions: sessions}
		if roll.Once(3) {
			stood = map[string]model.Clock{}
			for _, v := range sessions {
				if h := s.Hours.Every[roll(len(s.Hours.Every))]; roll.Once(2) {
					stood[v.ID] = h.From + model.Clock(roll.Steps(0, 6))
				}
			}
			over++
		}
		want := exhaustive(s, clones(sessions), stood)
		if err := d.solve(context.Background(), l, stood, false); err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if !d.proven {
			t.Errorf("seed %d: not proven", seed)
		}
		got := d.cost(stood)
		if want == nil && got == nil {
			none++
			continue
		}
		if want == nil || got == nil || *got != *want {
			t.Errorf("seed %d: %v instead of %v (block %v, rest %v, free %v)", seed, got, want, s.Limits.Block, s.Limits.BlockRest, s.Free(theDay))
			continue
		}
		found++
	}
	if found < 120 || none < 10 || over < 50 {
		t.Errorf("%d found, %d without, %d over a layout that stood", found, none, over)
	}
}

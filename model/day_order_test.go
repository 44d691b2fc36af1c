package model

import "testing"

// dayOf gives a day's sessions, each with its stage, part, start and minutes.
func dayOf(sessions ...Session) (out []*Session) {
	for i := range sessions {
		v := &sessions[i]
		ends := *v.Start + Clock(v.Minutes)
		v.Ends, v.Date = &ends, march(3)
		out = append(out, v)
	}
	return out
}

func from(at Clock, m Minutes, stage Stage, part string) Session {
	return Session{ID: string(stage) + at.String(), Stage: stage, Part: part, Start: &at, Minutes: m}
}

// Listening costs nothing at the edges of the day or in the hours for it, and
// elsewhere by whether there are such hours and whether it cuts the playing apart.
func TestListeningAside(t *testing.T) {
	evening := []Span{{1200, 1230}, {1230, 1260}}
	for _, c := range []struct {
		name  string
		at    Clock
		hours []Span
		want  int
	}{
		{"first", 540, nil, 0},
		{"last", 800, nil, 0},
		{"between", 620, nil, 1},
		{"first, though there are hours", 540, evening, 1},
		{"between, though there are hours", 620, evening, 2},
		{"in the hours, over two that touch", 1215, evening, 0},
		{"half in the hours", 1245, evening, 1},
		{"between, in the hours", 620, []Span{{600, 660}}, 0},
	} {
		s := &Season{From: march(1), To: march(7), Limits: DefaultLimits(), Habits: DefaultHabits()}
		s.Habits.ListeningHours.Every = c.hours
		day := dayOf(from(c.at, 30, ListeningStage, "p/a"), from(590, 20, PassageStage, "p/a"), from(700, 20, PassageStage, "p/b"))
		if got := s.DayCost(march(3), day, nil)[Aside]; got != c.want {
			t.Errorf("%s: %d instead of %d", c.name, got, c.want)
		}
	}
	s := &Season{From: march(1), To: march(7), Limits: DefaultLimits(), Habits: DefaultHabits()}
	if got := s.DayCost(march(3), dayOf(from(620, 30, RecordingsStage, "p/a")), nil)[Aside]; got != 0 {
		t.Errorf("alone: %d", got)
	}
}

// Changes of part count within a block, never over a rest, and in the place that
// the player's wish gives them.
func TestChangesOfPart(t *testing.T) {
	day := dayOf(from(540, 5, WarmUpStage, ""), from(545, 5, PassageStage, "p/a"), from(550, 5, PassageStage, "p/b"), from(555, 5, PassageStage, "p/a"),
		from(570, 5, PassageStage, "p/b"), from(575, 5, PassageStage, "p/b"), from(580, 5, PassageStage, "p/a"))
	for _, c := range []struct {
		wish         PartChanges
		one, changes int
	}{{FewChanges, 0, 3}, {MixedParts, 0, 0}, {OneWorkAtATime, 3, 0}} {
		s := &Season{From: march(1), To: march(7), Limits: DefaultLimits(), Habits: DefaultHabits()}
		s.Habits.PartChanges = c.wish
		if got := s.DayCost(march(3), day, nil); got[OneWork] != c.one || got[Changes] != c.changes {
			t.Errorf("%v: %v", c.wish, got)
		}
		s.Limits.BlockRest = 0 // each is a block of its own
		if got := s.DayCost(march(3), day, nil); got[OneWork]+got[Changes] != 0 {
			t.Errorf("%v, without rests: %v", c.wish, got)
		}
	}
}

// First fit puts what is listened to into the hours for it, unless it comes
// before its read-through of the same day, and puts it first where they are full.
func TestFirstFitListensInItsHours(t *testing.T) {
	s := &Season{From: march(1), To: march(7), Limits: DefaultLimits(), Habits: DefaultHabits()}
	s.Hours.Every = []Span{{540, 720}, {1200, 1260}}
	s.Limits.Quiet.Every = []Span{{1200, 1260}}
	s.Habits.ListeningHours.Every = []Span{{1195, 1260}}
	at := func(day []*Session) (out []Clock) {
		for _, v := range day {
			out = append(out, *v.Start)
		}
		return out
	}
	for _, c := range []struct {
		name string
		day  []*Session
		want []Clock
	}{
		{"in its hours", dayOf(from(0, 30, ListeningStage, "p/a"), from(0, 20, ReadStage, "p/b")), []Clock{1200, 540}},
		{"read the same day", dayOf(from(0, 30, ListeningStage, "p/a"), from(0, 20, ReadStage, "p/a")), []Clock{540, 570}},
		{"too long for them", dayOf(from(0, 70, RecordingsStage, "p/a"), from(0, 20, PassageStage, "p/a")), []Clock{540, 610}},
	} {
		if !s.LayOut(march(3), c.day) {
			t.Fatalf("%s: does not fit", c.name)
		}
		for i, got := range at(c.day) {
			if got != c.want[i] {
				t.Errorf("%s: %v instead of %v", c.name, at(c.day), c.want)
				break
			}
		}
	}
}

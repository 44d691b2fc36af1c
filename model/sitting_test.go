package model

import (
	"slices"
	"testing"
)

// TestSittings: what is longer than a day allows is heard at the break, or in as many
// sittings as it takes, as even as whole minutes allow.
func TestSittings(t *testing.T) {
	s, _ := fixture()
	for _, x := range []struct {
		all, pause, most Minutes
		want             []Minutes
	}{
		{0, 0, 90, nil}, {90, 0, 90, []Minutes{90}}, {90, 40, 90, []Minutes{90}}, {160, 0, 90, []Minutes{80, 80}},
		{160, 85, 90, []Minutes{85, 75}}, {95, 0, 48, []Minutes{48, 47}}, {200, 0, 90, []Minutes{67, 67, 66}}, {40, 0, 0, []Minutes{40}},
	} {
		s.Limits.Listening = x.most
		if got := s.sittings(&Part{Listening: x.all, Break: x.pause}); !slices.Equal(got, x.want) {
			t.Errorf("%v of %v, break %v: %v, not %v", x.all, x.most, x.pause, got, x.want)
		}
	}
}

// TestSittingsAudited: sittings lie on days running, days off left aside, all before
// the read-through, all of them or none; one that was heard holds nothing up.
func TestSittingsAudited(t *testing.T) {
	s, _ := fixture()
	s.Limits.Listening, s.Limits.DaysOff = 15, []Range{{march(3), march(4)}}
	s.Programmes[0].Parts[0].Listening, s.Programmes[0].Parts[0].Break = 25, 15
	first, second, read := SittingID(slate, 1, 2), SittingID(slate, 2, 2), StageID(slate, ReadStage)
	for _, x := range []struct {
		name           string
		one, two, read int // days of March; 0: left out
		heard          bool
		broken         bool
	}{
		{"days running", 1, 2, 2, false, false},
		{"over days off", 2, 5, 5, false, false},
		{"a day between", 5, 7, 8, false, true},
		{"the wrong way round", 6, 5, 8, false, true},
		{"on one day", 5, 5, 8, false, true},
		{"half of it", 5, 0, 0, false, true},
		{"after the read-through", 5, 6, 5, false, true},
		{"none", 0, 0, 0, false, false},
		{"the first heard", 0, 9, 9, true, false},
		{"the first heard, no second", 0, 0, 9, true, true},
	} {
		var h *History
		if x.heard {
			h = &History{Today: march(2), Stages: map[string]Date{first: march(1)}}
		}
		p := &Plan{Format: PlanFormat, From: s.From, To: s.To, Sessions: s.Past(h, nil)}
		at := map[string]int{first: x.one, second: x.two, read: x.read}
		for _, w := range s.Wanted(h) {
			if d := at[w.ID]; d != 0 {
				p.Sessions = append(p.Sessions, w.On(march(d)))
			} else {
				p.Unplaced = append(p.Unplaced, w.LeftOut())
			}
		}
		s.FinishFrom(p, h)
		got := slices.DeleteFunc(s.Audit(p, h), func(b Breach) bool { return b.Rule != OrderRule })
		if broken := len(got) > 0; broken != x.broken {
			t.Errorf("%s: %v", x.name, got)
		}
	}
}

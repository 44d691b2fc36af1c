package solver

import (
	"context"
	"slices"
	"testing"

	"primaprova/io/seasonfile"
	"primaprova/model"
	"primaprova/solver/tiny"
)

// A part of the demo season comes 14 and 10 days before its first rehearsal in
// place of five weeks: what lies behind stays, and of what lies ahead at most a
// tenth moves.
func TestPartComesLate(t *testing.T) {
	f, err := seasonfile.Read("../testdata/seasons/demo/season.yaml")
	if err != nil {
		t.Fatal(err)
	}
	f.Season.Programmes = f.Season.Programmes[4:8] // a third of it
	o := Options{Engine: tiny.HiGHS(t), Work: 0.03}
	standing, err := Solve(context.Background(), f.Season, o)
	if err != nil {
		t.Fatal(err)
	}
	for _, days := range []int{14, 10} {
		s := *f.Season
		s.Programmes = slices.Clone(s.Programmes)
		p := &s.Programmes[1]
		p.Parts = slices.Clone(p.Parts)
		part := &p.Parts[0]
		today := part.Arrives
		part.Arrives = p.FirstRehearsal() - model.Date(days)
		h, _ := s.Replay(nil, standing, model.Replaying{Today: today, TakeAsDone: true})
		plan, err := Solve(context.Background(), &s, Options{Engine: o.Engine, History: h, Standing: standing, Work: 0.3})
		if err != nil {
			t.Fatal(err)
		}
		was := map[string]model.Date{}
		behind := 0
		for _, v := range standing.Sessions {
			was[v.ID] = v.Date
			if v.Date < today {
				behind++
			}
		}
		moved, ahead := 0, 0
		name := model.PartName(p.ID, part.ID)
		for _, v := range plan.Sessions {
			switch {
			case v.Date < today:
				behind--
				if was[v.ID] != v.Date {
					t.Errorf("%s lay behind and is now on %s", v.ID, v.Date)
				}
			case v.Stage == model.WarmUpStage || v.Part == name:
			default:
				ahead++
				if was[v.ID] != v.Date {
					moved++
				}
			}
		}
		if behind != 0 {
			t.Errorf("%d sessions that lay behind are gone", behind)
		}
		if 10*moved > ahead {
			t.Errorf("%d days before: %d of %d sessions ahead moved", days, moved, ahead)
		}
		t.Log(plan.Provenance.Wishes, "moved", moved, "of", ahead)
	}
}

package solver

import (
	"context"
	"reflect"
	"slices"
	"testing"

	"primaprova/io/seasonfile"
	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver/run"
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

// What only stands behind binds nothing: the days ahead are planned as if no plan had stood.
func TestDaysGoneByBindNothing(t *testing.T) {
	s := invent.Season(invent.Size{Weeks: 6, Programmes: 2, Parts: 2, Passages: 5, Lead: 24, Tightness: 0.8, Seed: 3})
	params := Tuned
	params.Off = []string{run.Compact}
	o := Options{Engine: tiny.HiGHS(t), Work: 0.05, Params: &params}
	first, err := Solve(t.Context(), s, o)
	if err != nil {
		t.Fatal(err)
	}
	today := s.From + 9
	gone := &model.Plan{}
	for _, v := range first.Sessions {
		if v.Date < today {
			gone.Sessions = append(gone.Sessions, v)
		}
	}
	o.History, _ = s.Replay(nil, gone, model.Replaying{Today: today, TakeAsDone: true})
	ahead := func(standing *model.Plan) (out []model.Session) {
		o.Standing = standing
		plan, err := Solve(t.Context(), s, o)
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range plan.Sessions {
			if v.Date >= today {
				v.Start = nil
				out = append(out, v)
			}
		}
		return out
	}
	if with, none := ahead(gone), ahead(nil); len(gone.Sessions) == 0 || len(none) == 0 || !reflect.DeepEqual(with, none) {
		t.Errorf("%d sessions behind; %d ahead with them, %d without, and they differ", len(gone.Sessions), len(with), len(none))
	}
}

package main

import (
	"fmt"
	"io"
	"testing"

	"pgregory.net/rapid"

	"primaprova/model"
)

// TestChangesLeadFromOnePlanToTheOther: the changes, made in the earlier plan,
// give the later one; what is not among them is the same in both.
func TestChangesLeadFromOnePlanToTheOther(t *testing.T) {
	s := &model.Season{Title: "T", From: march1, To: march1 + 20}
	w := newView(newVoice(io.Discard, io.Discard), s, nil, nil)
	kinds := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) (*model.Plan, map[string]model.Session) {
			p, by := &model.Plan{}, map[string]model.Session{}
			for i := range 6 {
				v := model.Session{ID: fmt.Sprintf("p/a/%d/visit-1", i), Part: "p/a", Stage: model.PassageStage, Minutes: 10}
				switch rapid.IntRange(0, 3).Draw(t, name) {
				case 0:
				case 1:
					p.Unplaced = append(p.Unplaced, model.Unplaced{ID: v.ID, Part: v.Part, Stage: v.Stage})
				default:
					v.Date = march1 + model.Date(rapid.IntRange(0, 2).Draw(t, "day"))
					v.Minutes = model.Minutes(rapid.IntRange(1, 2).Draw(t, "minutes"))
					start := model.Clock(rapid.IntRange(0, 1).Draw(t, "start"))
					v.Start = &start
					p.Sessions = append(p.Sessions, v)
					by[v.ID] = v
				}
			}
			// Warm-ups come and go with their days and are no change.
			p.Sessions = append(p.Sessions, model.Session{ID: model.WarmUpID(march1), Date: march1 + model.Date(len(p.Unplaced)), Stage: model.WarmUpStage})
			return p, by
		}
		earlier, was := draw("earlier")
		later, is := draw("later")
		c := w.changes(earlier, later, 0)
		for _, x := range c.Sessions {
			kinds[x.Kind]++
			if (x.Was != nil) != (was[x.ID].ID != "") || (x.Is != nil) != (is[x.ID].ID != "") {
				t.Fatalf("%+v: was %+v, is %+v", x, was[x.ID], is[x.ID])
			}
			if x.Is == nil {
				delete(was, x.ID)
				continue
			}
			v := is[x.ID]
			if v.Date != *x.Is || v.Minutes != x.Minutes || !alike(v.Start, x.IsAt) {
				t.Fatalf("%+v: is %+v", x, v)
			}
			was[x.ID] = v
		}
		if len(was) != len(is) {
			t.Fatalf("%d sessions come of the changes, the plan has %d", len(was), len(is))
		}
		for id, v := range is {
			if u := was[id]; u.Date != v.Date || u.Minutes != v.Minutes || !alike(u.Start, v.Start) {
				t.Fatalf("%s: %+v comes of the changes, the plan has %+v", id, u, v)
			}
		}
		goes, comes := 0, 0
		for _, d := range c.Days {
			goes, comes = goes+len(d.goes), comes+len(d.comes)
		}
		n := map[string]int{}
		for _, x := range c.Sessions {
			n[x.Kind]++
		}
		if goes != n[movedDay]+n[isGone]+n[isLeftOut] || comes != n[movedDay]+n[isNew]+n[isPlaced]+n[otherLength] {
			t.Fatalf("%d go and %d come, of %v", goes, comes, n)
		}
	})
	for _, k := range []string{movedDay, movedHour, otherLength, isNew, isGone, isLeftOut, isPlaced} {
		if kinds[k] == 0 {
			t.Errorf("no session was %s", k)
		}
	}
}

var march1 = model.NewDate(2027, 3, 1)

package hours

import (
	"context"
	"testing"

	"primaprova/model"
	"primaprova/solver/tiny"
)

// In one block the passages of a part follow each other, whether every session
// has a start of its own, since one stood, or not; with mixed parts the order
// stays that of hard places.
func TestOnePartAfterTheOther(t *testing.T) {
	l := tiny.CPSAT(t)
	for _, stood := range []map[string]model.Clock{nil, {model.WarmUpID(theDay): 540}} {
		for wish, want := range map[model.PartChanges]int{model.FewChanges: 1, model.OneWorkAtATime: 1, model.MixedParts: 2} {
			s := &model.Season{From: theDay, To: theDay, Limits: model.DefaultLimits(), Habits: model.DefaultHabits()}
			s.Hours.Every = []model.Span{{From: 540, To: 565}}
			s.Limits.WarmUp, s.Habits.PartChanges = 5, wish
			p := model.Programme{ID: "p", Parts: []model.Part{{ID: "w"}, {ID: "x"}}}
			warm := &model.Session{ID: model.WarmUpID(theDay), Date: theDay, Stage: model.WarmUpStage, Playing: true, Minutes: 5}
			today := []*model.Session{warm}
			for i, hard := range []int{3, 2, 1} { // w, x, w
				part := &p.Parts[i%2]
				q := model.Passage{ID: string(rune('a' + i)), Hard: hard}
				part.Passages = append(part.Passages, q)
				name, one := "p/"+part.ID+"/"+q.ID, 1
				today = append(today, &model.Session{ID: name + "/visit-1", Date: theDay, Stage: model.PassageStage, Playing: true, Part: "p/" + part.ID, Passage: &name, Visit: &one, Visits: &one, Minutes: 5})
			}
			s.Programmes = []model.Programme{p}
			d := &day{s: s, date: theDay, sessions: today}
			if !s.LayOut(theDay, today) {
				t.Fatal("does not fit")
			}
			if err := d.solve(context.Background(), l, stood, false); err != nil {
				t.Fatal(err)
			}
			sorted := append([]*model.Session(nil), today...)
			sortByStart(sorted)
			changes := 0
			for i := 2; i < len(sorted); i++ {
				if sorted[i].Part != sorted[i-1].Part {
					changes++
				}
			}
			if changes != want {
				t.Errorf("%v over %v: %d changes instead of %d", wish, stood, changes, want)
			}
		}
	}
}

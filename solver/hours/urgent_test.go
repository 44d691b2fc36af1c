package hours

import (
	"context"
	"testing"

	"primaprova/model"
	"primaprova/solver/tiny"
)

// TestUrgentVisitsComeFirst: of two visits alike the one that cannot wait is
// played first, in days with hours too; a hard one stays before both.
func TestUrgentVisitsComeFirst(t *testing.T) {
	from := theDay - 1
	s := &model.Season{TimeZone: "Europe/Oslo", From: from, To: from + 20, Limits: model.DefaultLimits(), Habits: model.DefaultHabits()}
	s.Hours.Every = []model.Span{{From: 540, To: 720}}
	s.Habits.Visits = [4]int{0, 1, 1, 1}
	part := func(id string, q model.Passage) model.Programme {
		q.ID, q.Minutes = "x", 10
		due := from + 15
		if id == "late" {
			due = from + 6
		}
		return model.Programme{ID: id, Services: []model.Service{{Kind: model.Rehearsal, Date: due, Start: 1200, Lasts: 60}},
			Parts: []model.Part{{ID: "p", Arrives: from, Passages: []model.Passage{q}}}}
	}
	s.Programmes = []model.Programme{part("calm", model.Passage{Hard: 2}), part("hard", model.Passage{Hard: 3}), part("late", model.Passage{Hard: 2})}
	for i := range s.Programmes {
		s.Programmes[i].Parts[0].Listening, s.Programmes[i].Parts[0].ReadThrough, s.Programmes[i].Parts[0].Recordings = 0, 0, 0
	}
	p := &model.Plan{}
	for _, w := range s.Wanted(nil) {
		p.Sessions = append(p.Sessions, w.On(theDay))
	}
	s.Finish(p)
	if _, err := LayOutDays(context.Background(), tiny.CPSAT(t), 0.1, s, p, nil, s.From); err != nil {
		t.Fatal(err)
	}
	var order []string
	for _, v := range p.ByDate()[theDay] {
		if v.Stage == model.PassageStage {
			order = append(order, v.Part)
		}
	}
	place := map[string]int{}
	for i, name := range order {
		place[name] = i
	}
	if len(order) != 3 || place["late/p"] > place["calm/p"] {
		t.Errorf("played in the order %v", order)
	}
}

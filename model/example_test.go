package model_test

import (
	"fmt"

	"primaprova/model"
	"primaprova/model/invent"
)

// Any plan can be judged without a solver: here one that leaves out everything, which keeps every
// rule, and then one that listens before the part is there.
func ExampleSeason_Audit() {
	s := invent.Season(invent.Small(1))
	plan := &model.Plan{Format: model.PlanFormat, From: s.From, To: s.To}
	wanted := s.Wanted(nil)
	for i := range wanted {
		plan.Unplaced = append(plan.Unplaced, wanted[i].LeftOut())
	}
	s.FinishFrom(plan, nil)
	fmt.Println(len(s.Audit(plan, nil)), "rules broken,", len(plan.Unplaced), "sessions left out")

	plan.Sessions, plan.Unplaced = append(plan.Sessions, wanted[0].On(s.From)), plan.Unplaced[1:]
	s.FinishFrom(plan, nil)
	for _, b := range s.Audit(plan, nil) {
		fmt.Println(b)
	}
	// Output:
	// 0 rules broken, 10 sessions left out
	// 2027-01-11: window: p1/w1/listening lies outside its window 2027-01-12..2027-01-19
}

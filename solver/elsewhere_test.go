package solver

import (
	"testing"

	"primaprova/model"
	"primaprova/solver/instance"
	"primaprova/solver/tiny"
)

// TestAround: on its own day a session breaks nothing and changes nothing; what
// keeps it from a day is what the audit says of the plan with it there; and in
// a plan that is proven best no day is better in the order of the wishes.
func TestAround(t *testing.T) {
	free, forbidden, dear := 0, 0, 0
	for seed := range 60 {
		c := tiny.Draw(tiny.DieOf(seed), tiny.Size{Days: 10, Passages: 3, Visits: 3})
		p := c.Problem()
		forgetStanding(p) // closeness: moving is no cost here
		st := bestState(t, p)
		plan := st.Assemble(c.History, c.Standing)
		today := c.Season.From + model.Date(p.Today)
		for i := range plan.Sessions {
			s := &plan.Sessions[i]
			if s.Date < today || s.Stage == model.WarmUpStage || doneAlready(c, s) {
				continue
			}
			all, err := Around(c.Season, plan, c.History, s.ID)
			if err != nil {
				t.Fatal(err)
			}
			for _, e := range all {
				switch {
				case e.Date == s.Date:
					if len(e.Breaches) > 0 || e.Change != (model.Measures{}) {
						t.Errorf("season %d: %s on its own day: %v %v", seed, s.ID, e.Breaches, e.Change)
					}
				case len(e.Breaches) > 0:
					forbidden++
				case e.Change.Less(model.Measures{}):
					t.Errorf("season %d: %s is better on %v by %v than in the best plan", seed, s.ID, e.Date, e.Change)
				case e.Free():
					free++
				default:
					dear++
				}
			}
		}
	}
	if free < 50 || forbidden < 500 || dear < 50 {
		t.Errorf("%d days free, %d forbidden, %d dear: too few of a kind", free, forbidden, dear)
	}
}

// doneAlready tells whether the record calls a session done.
func doneAlready(c *tiny.Case, s *model.Session) bool {
	for _, w := range c.Season.Wanted(c.History) {
		if w.ID == s.ID {
			return false
		}
	}
	return true
}

// forgetStanding takes the standing plan out of an instance.
func forgetStanding(p *instance.Instance) {
	for i := range p.Parts {
		p.Parts[i].Stand = [3]int{instance.None, instance.None, instance.None}
	}
	for i := range p.Passages {
		for k := range p.Passages[i].Visits {
			p.Passages[i].Visits[k].Stand = instance.None
		}
	}
}

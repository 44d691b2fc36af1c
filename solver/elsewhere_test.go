package solver

import (
	"testing"

	"primaprova/model"
)

// TestAround: on its own day a session breaks nothing and changes nothing; what
// keeps it from a day is what the audit says of the plan with it there; and in
// a plan that is proven best no day is better in the order of the wishes.
func TestAround(t *testing.T) {
	free, forbidden, dear := 0, 0, 0
	for seed := range 60 {
		c := tinySeason(dieOf(seed), tinySize{10, 3, 3})
		p := c.problem()
		p.forget() // closeness: moving is no cost here
		st := bestState(t, p)
		plan := st.assemble(c.history, c.standing)
		today := c.season.From + model.Date(p.today)
		for i := range plan.Sessions {
			s := &plan.Sessions[i]
			if s.Date < today || s.Stage == model.WarmUpStage || doneAlready(c, s) {
				continue
			}
			all, err := Around(c.season, plan, c.history, s.ID)
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
func doneAlready(c *tiny, s *model.Session) bool {
	for _, w := range c.season.Wanted(c.history) {
		if w.ID == s.ID {
			return false
		}
	}
	return true
}

// forget takes the standing plan out of a problem.
func (p *problem) forget() {
	for i := range p.parts {
		p.parts[i].stand = [3]int{none, none, none}
	}
	for i := range p.passages {
		for k := range p.passages[i].visits {
			p.passages[i].visits[k].stand = none
		}
	}
}

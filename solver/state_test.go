package solver

import (
	"testing"

	"pgregory.net/rapid"

	"primaprova/model"
	"primaprova/solver/compact"
	"primaprova/solver/construct"
	"primaprova/solver/instance"
	"primaprova/solver/tiny"
)

// TestStateAgreesWithTheModel: whatever is placed, the audit finds nothing, and
// the model measures what the solution says.
func TestStateAgreesWithTheModel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		roll := tiny.Drawn(t)
		for range 10 {
			c := tiny.Draw(roll, tiny.Size{Days: 14, Passages: 4, Visits: 4})
			p := c.Problem()
			s := tiny.RandomState(p, roll)
			agrees(t, c, s)
			// taking out and putting back leaves no trace
			for range 3 {
				if len(p.Parts) > 0 {
					s.LiftPart(roll(len(p.Parts)))
				}
				if len(p.Passages) > 0 {
					if i := roll(len(p.Passages)); s.Sched[i] == nil {
						tiny.PlaceAtRandom(s, i, roll)
					}
				}
			}
			agrees(t, c, s)
		}
	})
}

func agrees(t *rapid.T, c *tiny.Case, s *instance.Solution) {
	plan := s.Assemble(c.History, c.Standing)
	for _, b := range c.Season.Audit(plan, c.History) {
		t.Errorf("%v", b)
	}
	if got, want := s.Score().Measures(), c.Season.Measure(plan, c.History, c.Standing); got != want {
		t.Errorf("the state says %v, the model %v", got, want)
	}
}

// TestExtraIsTheRise: what a day charges for more minutes is by how much the
// body wish then rises.
func TestExtraIsTheRise(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		roll := tiny.Drawn(t)
		for range 10 {
			p := tiny.Draw(roll, tiny.Size{Days: 20, Passages: 4, Visits: 4}).Problem()
			s := tiny.RandomState(p, roll)
			for range 4 {
				d, minutes := roll(p.Days), roll.Between(1, 30)
				before, said := p.Strain.Excess(s.Planned), s.Extra(d, minutes)
				s.Play(d, minutes)
				if rise := p.Strain.Excess(s.Planned) - before; rise != said {
					t.Fatalf("%d min more on day %d cost %d, extra says %d", minutes, d, rise, said)
				}
			}
		}
	})
}

// TestProgramAgreesWithState: a solution is a point of the written-out program, at
// which the five wishes have the solution's values; and the point gives the solution
// back.
func TestProgramAgreesWithState(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		roll := tiny.Drawn(t)
		for range 10 {
			p := tiny.Draw(roll, tiny.Size{Days: 14, Passages: 4, Visits: 4}).Problem()
			s := tiny.RandomState(p, roll)
			w := compact.Write(p)
			if err := w.M.Err(); err != nil {
				t.Fatal(err)
			}
			x := w.Start(s)
			if by, what := w.M.Violation(x); by > 1e-9 {
				t.Errorf("%s", what)
			}
			for j, v := range w.Wishes {
				if got, want := x[v], float64(s.Score()[j]); got != want {
					t.Errorf("%v is %v, the state says %v", model.Wish(j), got, want)
				}
			}
			if back := w.State(x); back.Score() != s.Score() {
				t.Errorf("read back as %v, was %v", back.Score(), s.Score())
			}
		}
	})
}

// TestStandingKeepsTheRules: of a plan made before a pin, a rest day or a rule came, only
// what keeps them is taken over.
func TestStandingKeepsTheRules(t *testing.T) {
	stayed := 0
	for seed := range 200 {
		roll := tiny.DieOf(seed)
		c := tiny.Draw(roll, tiny.Size{Days: 14, Passages: 4, Visits: 4})
		before := *c.Season
		before.Pins, before.Limits.RestDays, before.Limits.NewOnConcerts = nil, nil, true
		standing := tiny.RandomState(instance.New(&before, nil, nil), roll).Assemble(nil, nil)
		plan := construct.FromStanding(instance.New(c.Season, nil, standing)).Assemble(nil, standing)
		for _, b := range c.Season.Audit(plan, nil) {
			t.Errorf("season %d: %v", seed, b)
		}
		stayed += len(plan.Sessions)
	}
	if stayed < 500 {
		t.Errorf("only %d sessions stand", stayed)
	}
}

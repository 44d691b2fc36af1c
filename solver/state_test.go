package solver

import (
	"testing"

	"pgregory.net/rapid"

	"primaprova/model"
)

// TestStateAgreesWithTheModel: whatever is placed, the audit finds nothing, and
// the model measures what the state says.
func TestStateAgreesWithTheModel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		roll := drawn(t)
		for range 10 {
			c := tinySeason(roll, tinySize{14, 4, 4})
			p := c.problem()
			s := randomState(p, roll)
			agrees(t, c, s)
			// taking out and putting back leaves no trace
			for range 3 {
				if len(p.parts) > 0 {
					s.liftPart(roll(len(p.parts)))
				}
				if len(p.passages) > 0 {
					if i := roll(len(p.passages)); s.sched[i] == nil {
						s.placeAtRandom(i, roll)
					}
				}
			}
			agrees(t, c, s)
		}
	})
}

func agrees(t *rapid.T, c *tiny, s *state) {
	plan := s.assemble(c.history, c.standing)
	for _, b := range c.season.Audit(plan, c.history) {
		t.Errorf("%v", b)
	}
	if got, want := s.score().measures(), c.season.Measure(plan, c.history, c.standing); got != want {
		t.Errorf("the state says %v, the model %v", got, want)
	}
}

// TestExtraIsTheRise: what a day charges for more minutes is by how much the
// body wish then rises.
func TestExtraIsTheRise(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		roll := drawn(t)
		for range 10 {
			p := tinySeason(roll, tinySize{20, 4, 4}).problem()
			s := randomState(p, roll)
			for range 4 {
				d, minutes := roll(p.days), roll.between(1, 30)
				before, said := p.strain.Excess(s.planned), s.extra(d, minutes)
				s.play(d, minutes)
				if rise := p.strain.Excess(s.planned) - before; rise != said {
					t.Fatalf("%d min more on day %d cost %d, extra says %d", minutes, d, rise, said)
				}
			}
		}
	})
}

// TestProgramAgreesWithState: a state is a point of the written-out program, at
// which the five wishes have the state's values; and the point gives the state
// back.
func TestProgramAgreesWithState(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		roll := drawn(t)
		for range 10 {
			p := tinySeason(roll, tinySize{14, 4, 4}).problem()
			s := randomState(p, roll)
			w := p.writeOut()
			if err := w.m.Err(); err != nil {
				t.Fatal(err)
			}
			x := w.start(s)
			if by, what := w.m.Violation(x); by > 1e-9 {
				t.Errorf("%s", what)
			}
			for j, v := range w.wishes {
				if got, want := x[v], float64(s.score()[j]); got != want {
					t.Errorf("%v is %v, the state says %v", model.Wish(j), got, want)
				}
			}
			if back := w.state(x); back.score() != s.score() {
				t.Errorf("read back as %v, was %v", back.score(), s.score())
			}
		}
	})
}

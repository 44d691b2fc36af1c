package simulation

import (
	"math"
	"testing"

	"primaprova/model"
)

// TestRetention: what the formula gives, worked out apart in Python; and what
// research on spacing finds of it (Cepeda et al., 2008): wider gaps cost a
// little at the check, are level after a week, and pay after three.
func TestRetention(t *testing.T) {
	days := func(gaps ...model.Date) []model.Date {
		out := []model.Date{1}
		for _, g := range gaps {
			out = append(out, out[len(out)-1]+g)
		}
		return out
	}
	for _, c := range []struct {
		visits []model.Date
		after  model.Date
		want   float64
	}{
		{nil, 1, 0}, {days(1, 2), 4, 0.924}, {days(2, 4), 7, 0.897}, // the fourth visit is the check
		{days(1, 2, 4), 7, 0.910}, {days(2, 4, 7), 7, 0.910}, {days(1, 2, 4), 21, 0.832}, {days(2, 4, 7), 21, 0.845},
	} {
		on := c.after
		if n := len(c.visits); n > 0 {
			on += c.visits[n-1]
		}
		if got := retention(c.visits, on); math.Abs(got-c.want) > 0.0006 {
			t.Errorf("%d days after %v: %.4f, want %.3f", c.after, c.visits, got, c.want)
		}
		if n := len(c.visits); n > 0 && retention(append(c.visits, on), on) != retention(c.visits, on) {
			t.Error("the visit of the day itself counts")
		}
	}
}

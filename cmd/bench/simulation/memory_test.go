package simulation

import (
	"math"
	"strconv"
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

// TestMotor: what the second memory does, worked out apart in Python: a check at
// the least gaps of an ordinary recipe fails once in thirteen, after a month a
// little more than at the check itself after it, and no passage that was never
// worked at holds; a passage that fails is the one to fail again.
func TestMotor(t *testing.T) {
	w := Ordinary(1, true)
	mean := func(recipe int, on model.Date, days ...model.Date) (held, both float64) {
		const n = 40_000
		for i := range n {
			p := w.motor(strconv.Itoa(i), recipe, days, on)
			held, both = held+p/n, both+p*p/n
		}
		return held, both
	}
	for _, c := range []struct {
		recipe int
		on     model.Date
		days   []model.Date
		failed float64
	}{
		{3, 4, []model.Date{1, 2}, 0.067}, {4, 8, []model.Date{1, 2, 4}, 0.0765}, {5, 13, []model.Date{1, 2, 4, 8}, 0.088},
		{4, 8, nil, 1},
	} {
		if held, _ := mean(c.recipe, c.on, c.days...); math.Abs(1-held-c.failed) > 0.004 {
			t.Errorf("%d visits: a share of %.4f fails, want %.4f", c.recipe, 1-held, c.failed)
		}
	}
	week, _ := mean(4, 15, 1, 2, 4, 8)
	month, _ := mean(4, 43, 1, 2, 4, 8)
	year, _ := mean(4, 373, 1, 2, 4, 8)
	if !(week > 0.98 && month < week && month > 0.92 && year < 0.5) {
		t.Errorf("hold after a week %.3f, five %.3f, a year %.3f", week, month, year)
	}
	held, both := mean(4, 8, 1, 2, 4)
	if again := (1 - 2*held + both) / (1 - held); again < 3*(1-held) {
		t.Errorf("who fails once fails again with %.3f, anybody with %.3f", again, 1-held)
	}
	if w.motor("p", 4, []model.Date{1, 2, 8}, 8) != w.motor("p", 4, []model.Date{1, 2}, 8) {
		t.Error("the visit of the day itself counts")
	}
}

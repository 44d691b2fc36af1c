package main

import (
	"testing"

	"primaprova/model"
	"primaprova/solver"
)

// A second without a plan, one at twice the end's body, three in which only the bound moves.
func TestIntegral(t *testing.T) {
	events := []solver.Event{
		{At: 2, Score: []float64{0, 0, 0, 50, 5}},
		{At: 1, Score: []float64{8, 0, 0, 100, 4}},
		{At: 3, Bound: 45, Wish: "body"},
		{At: 5, Bound: 48, Wish: "body"},
	}
	for w, want := range map[model.Wish][2]float64{model.Coverage: {0, 2}, model.ReadyBy: {0, 1}, model.Body: {50, 1.5}, model.Spacing: {5, 1.2}} {
		if last, sum, all := integral(events, w); last != want[0] || sum != want[1] || all != 5 {
			t.Errorf("%v: %v in the end, integral %v of %v s; want %v and 5", w, last, sum, all, want)
		}
	}
	if _, sum, all := integral(nil, model.Body); sum != 0 || all != 0 {
		t.Errorf("of nothing: %v of %v", sum, all)
	}
}

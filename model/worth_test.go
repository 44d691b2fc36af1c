package model

import "testing"

// The figures say what the comment of worth.go claims, for passages of any
// length and kind under the ordinary habits. Common practice, no source.
func TestWorth(t *testing.T) {
	s := &Season{Habits: DefaultHabits()}
	type passage struct {
		hard    int
		exposed bool
		recipe  []Visit
	}
	var all []passage
	for hard := 1; hard <= 3; hard++ {
		for _, exposed := range []bool{false, true} {
			for m := Minutes(5); m <= 120; m += 5 {
				all = append(all, passage{hard, exposed, s.Recipe(&Passage{Hard: hard, Exposed: exposed, Minutes: m})})
			}
		}
	}
	// A visit's worth by the minute, alone or with all that comes after it,
	// since that goes with it.
	alone := func(v Visit) float64 { return float64(v.Value) / float64(v.Minutes) }
	onwards := func(r []Visit) float64 {
		sum := 0
		for _, v := range r {
			sum += v.Value
		}
		return float64(sum) / float64(r[0].Minutes)
	}
	read := float64(s.Habits.StageWorth(ReadStage, 30)) / 30
	for _, p := range all {
		if alone(p.recipe[0]) >= read {
			t.Errorf("%+v: a first visit outweighs a read-through of the same length", p)
		}
		for k := 1; k < len(p.recipe); k++ {
			if p.recipe[k].Value >= p.recipe[k-1].Value {
				t.Errorf("%+v: visit %d counts as much as the one before", p, k+1)
			}
		}
		for _, q := range all {
			if alone(q.recipe[0]) <= onwards(p.recipe[2:]) {
				t.Errorf("third and later visits of %+v outweigh the first of %+v", p, q)
			}
			if !p.exposed && alone(q.recipe[0]) <= alone(p.recipe[1]) {
				t.Errorf("the second visit of %+v outweighs the first of %+v", p, q)
			}
			if last := p.recipe[len(p.recipe)-1:]; q.exposed && p.hard == 1 && !p.exposed && min(alone(q.recipe[0]), alone(q.recipe[1])) <= onwards(last) {
				t.Errorf("the last visit of easy %+v outweighs the first two of exposed %+v", p, q)
			}
			if p.hard < q.hard && p.exposed == q.exposed || p.hard == q.hard && !p.exposed && q.exposed {
				for k := range min(len(p.recipe), len(q.recipe)) {
					if alone(p.recipe[k]) >= alone(q.recipe[k]) {
						t.Errorf("visit %d of %+v outweighs that of %+v", k+1, p, q)
					}
				}
			}
		}
	}
	for points, m := range map[int]Minutes{0: 20, 3: 0} {
		if w := worth(points, m); w != 0 {
			t.Errorf("%d points, %v: worth %d", points, m, w)
		}
	}
	if w := worth(1, 1); w != 1 {
		t.Errorf("a wanted minute is worth %d", w)
	}
}

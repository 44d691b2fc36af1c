package cpsat

import "testing"

func TestSmallModel(t *testing.T) {
	m := NewModel("")
	x, y := m.NewInt("x", Range(0, 10)), m.NewInt("y", Range(0, 10))
	m.Linear(Sum(x, Times(2, y)), UpTo(14))
	m.AtMost(Times(3, x), Sum(y, Const(2)))
	m.Maximize(Sum(x, Times(3, y), Const(5)))
	r := solved(t, m, Params{})
	s, _ := r.Solution()
	v, ok := r.Objective()
	t.Log(r.Status, s.All(), v, ok)
}

package cpsat_test

import (
	"context"
	"fmt"

	"primaprova/solver/cpsat"
	"primaprova/solver/ortools"
)

// Two sessions that must not overlap, the second as early as can be.
func Example() {
	path, err := ortools.Locate(context.Background(), ortools.CPSAT, "")
	if err != nil {
		fmt.Println(err)
		return
	}
	l, err := cpsat.Open(path)
	if err != nil {
		fmt.Println(err)
		return
	}
	m := cpsat.NewModel("an evening")
	scales, solo := m.NewInt("scales", cpsat.Range(0, 60)), m.NewInt("solo", cpsat.Range(0, 60))
	m.NoOverlap(m.Task("scales", scales, 20), m.Task("solo", solo, 15))
	m.AtLeast(solo, cpsat.Sum(scales, cpsat.Const(1)))
	m.Minimize(solo)
	r, err := l.Solve(context.Background(), m, cpsat.Params{})
	if err != nil {
		fmt.Println(err)
		return
	}
	if s, ok := r.Solution(); ok {
		fmt.Println(r.Status, s.Int(scales), s.Int(solo))
	}
	// Output:
	// optimal 0 20
}

package highs_test

import (
	"context"
	"fmt"

	"primaprova/solver/highs"
	"primaprova/solver/mip"
	"primaprova/solver/ortools"
)

// A knapsack, solved and proven.
func Example() {
	path, err := ortools.Locate(context.Background(), ortools.HiGHS, "")
	if err != nil {
		fmt.Println(err)
		return
	}
	l, err := highs.Open(path)
	if err != nil {
		fmt.Println(err)
		return
	}
	m := mip.New("knapsack")
	row := m.Row("weight", 0, 10)
	for _, item := range []struct{ worth, weight float64 }{{60, 5}, {50, 4}, {70, 6}, {30, 3}} {
		m.AddTerm(row, m.Bool("", -item.worth), item.weight)
	}
	r, err := l.Solve(context.Background(), m, highs.Options{}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v: worth %.0f, at most %.0f\n", r.Status, -r.Objective, -r.Bound)
	// Output:
	// optimal: worth 120, at most 120
}

package chance_test

import (
	"fmt"

	"primaprova/model/chance"
	"primaprova/model/invent"
	"primaprova/solver"
)

// How sure each part of a plan is to be ready, played through many times.
func ExampleOf() {
	s := invent.Season(invent.Small(3))
	plan, err := solver.Greedy(s, solver.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range chance.Of(s, nil, plan, chance.Options{Seed: 1}) {
		fmt.Printf("%s: ready by %v in %.0f of %d plays\n", c.Part, c.Due, c.Ready*float64(c.Runs), c.Runs)
	}
	// Output:
	// p1/w1: ready by 2027-01-20 in 654 of 1000 plays
}

package mip_test

import (
	"fmt"
	"os"

	"primaprova/solver/mip"
)

// Two things to carry, room for one of them: the program as other solvers read it.
func Example() {
	m := mip.New("carry")
	cello := m.Bool("cello", -3)
	stand := m.Bool("stand", -1)
	m.Row("room", 0, 4, mip.Term{Var: cello, Coef: 3}, mip.Term{Var: stand, Coef: 2})
	if by, what := m.Violation([]float64{1, 1}); by > 0 {
		fmt.Println("both:", what)
	}
	fmt.Println("the cello alone is worth", -m.Value([]float64{1, 0}))
	if err := m.WriteMPS(os.Stdout); err != nil {
		fmt.Println(err)
	}
	// Output:
	// both: row room is 5, outside 0 to 4
	// the cello alone is worth 3
	// NAME carry
	// ROWS
	//  N cost
	//  G room
	// COLUMNS
	//  M0 'MARKER' 'INTORG'
	//  cello cost -3
	//  cello room 3
	//  stand cost -1
	//  stand room 2
	//  M1 'MARKER' 'INTEND'
	// RHS
	// RANGES
	//  RANGE room 4
	// BOUNDS
	//  UP BOUND cello 1
	//  UP BOUND stand 1
	// ENDATA
}

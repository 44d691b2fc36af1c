package colgen

import (
	"math"
	"testing"

	"primaprova/model/invent"
	"primaprova/solver/instance"
	"primaprova/solver/mip"
)

// The row through two multiples is right at both, and never above the truth at
// any multiple.
func TestStepsAreCut(t *testing.T) {
	for _, step := range []int{1, 3, 5, 15} {
		for side := range 40 {
			p := instance.New(invent.Season(invent.Small(1)), nil, nil)
			c := NewLinking("steps", p, 0, p.Days-1, instance.NewSolution(p).Usage())
			rows := c.M.Rows()
			c.cut("step", step, side, load{terms: []mip.Term{{Var: c.P[0], Coef: 1}}})
			if (c.M.Rows() > rows) != (side%step != 0) {
				t.Fatalf("step %d, side %d: %d rows more", step, side, c.M.Rows()-rows)
			}
			if side%step == 0 {
				continue
			}
			below := side / step * step
			x := make([]float64, c.M.Vars())
			for n := range 20 {
				load := n * step
				x[c.P[0]] = float64(load)
				row := mip.Row(rows)
				cut, truth := c.M.Activity(row, x)-c.M.RowUpper(row), float64(max(0, load-side))
				if cut > truth+1e-9 || (load == below || load == below+step) && math.Abs(cut-truth) > 1e-9 {
					t.Errorf("step %d, side %d, load %d: %v in place of %v", step, side, load, cut, truth)
				}
			}
		}
	}
}

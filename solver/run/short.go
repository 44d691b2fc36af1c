package run

import (
	"slices"

	"primaprova/model"
)

// Shortened gives the parameters of a season of a few weeks that is planned by columns: whoever plans so
// little waits for seconds. The written-out program takes the place of what fills parts in, narrow strips
// that of wide ones, which end for lack of iterations there, and trees get a quarter of the work.
func (p *Params) Shortened() *Params {
	s := *p
	s.Short, s.Off, s.Passes = true, append(slices.Clone(p.Off), Fill), p.ShortPasses
	s.Thorough.Whole = false
	s.BranchWork /= 4
	s.CompactSecond[model.ReadyBy] = 1 // nothing else comes after it
	return &s
}

package main

import (
	"fmt"

	"primaprova/cmd/bench/simulation"
)

// simulated has seasons lived through, in which parts come late, passages do
// not stick and days are lost: planned again as things happen, by the first plan
// alone, and without a plan.
func (b *bench) simulated() {
	const group = "simulated"
	b.doing("simulated: seasons lived through")
	lib, err := highsLibrary()
	if err != nil {
		b.add(row{group: group, note: "FAILED: " + err.Error()})
		return
	}
	rows, err := simulation.Run(b.ctx, lib, simulation.Options{})
	if err != nil {
		b.add(row{group: group, note: "FAILED: " + err.Error()})
		return
	}
	for _, r := range rows {
		b.add(row{group: group, what: fmt.Sprintf("work over room %.2f: %s", r.Tightness, r.Way), seconds: r.SecondsPlanned,
			note: fmt.Sprintf("%d of %d parts ready at their first rehearsal, %.1f%%; %.1f%% of the worth missed; %d plannings",
				r.Ready, r.Parts, 100*r.Share(), 100*float64(r.Missed)/float64(max(1, r.Worth)), r.Solved)})
	}
}

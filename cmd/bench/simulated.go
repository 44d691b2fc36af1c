package main

import (
	"fmt"

	"primaprova/cmd/bench/simulation"
	"primaprova/solver/highs"
	"primaprova/solver/ortools"
)

// simulated has invented seasons lived through, planned again as things happen,
// against following the first plan and against doing what is due first.
func (b *bench) simulated() {
	b.doing("simulated: seasons day by day")
	rows, err := simulate(b)
	if err != nil {
		b.add(row{group: "simulated", what: "seasons day by day", note: "FAILED: " + err.Error()})
		return
	}
	for _, r := range rows {
		b.add(row{group: "simulated", what: fmt.Sprintf("work/room %.2f: %s", r.Tightness, r.Way), seconds: r.SecondsPlanned,
			note: fmt.Sprintf("%d of %d parts ready (%.0f %%), %d with every visit, %.1f %% of the worth missed, %d plannings",
				r.Ready, r.Parts, 100*r.Share(), r.Whole, 100*float64(r.Missed)/float64(max(1, r.Worth)), r.Solved)})
	}
}

func simulate(b *bench) ([]simulation.Row, error) {
	path, err := ortools.Locate(b.ctx, ortools.HiGHS, "")
	if err != nil {
		return nil, err
	}
	engine, err := highs.Open(path)
	if err != nil {
		return nil, err
	}
	return simulation.Run(b.ctx, engine, simulation.Options{})
}

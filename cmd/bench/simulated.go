package main

import (
	"fmt"

	"primaprova/cmd/bench/simulation"
	"primaprova/solver/highs"
)

// simulated has seasons lived through, in which parts come late, passages do
// not stick and days are lost: planned again as things happen, by the first plan
// alone, and without a plan.
func (b *bench) simulated() {
	const group = "simulated"
	b.doing("simulated: seasons lived through")
	var lib *highs.Library
	if !b.fitted {
		var err error
		if lib, err = highsLibrary(); err != nil {
			b.add(row{group: group, note: "FAILED: " + err.Error()})
			return
		}
	}
	rows, err := simulation.Run(b.ctx, lib, b.lives)
	if err != nil {
		b.add(row{group: group, note: "FAILED: " + err.Error()})
		return
	}
	world, known := "", ""
	if b.lives.Motor {
		world = "motor world, "
	}
	for _, r := range rows {
		share := func(n, of int) float64 { return 100 * float64(n) / float64(max(1, of)) }
		paired := ""
		if !b.fitted {
			known = fmt.Sprintf(", with all luck known but checks %d", r.Known)
		}
		listed := ""
		if r.Listed > 0 {
			listed = fmt.Sprintf(" (%d days by the list)", r.Listed)
		}
		if p := r.Against; p != nil {
			paired = fmt.Sprintf("; %d parts ready by the first way only, %d by this way only, p %.2g by parts, %.2g by seasons (%v)",
				p.Won, p.Lost, p.ByParts(), p.BySeasons(), p.Differences)
		}
		b.add(row{group: group, what: world + fmt.Sprintf("work over room %.2f: %s", r.Tightness, r.Way), seconds: r.SecondsPlanned,
			note: fmt.Sprintf("%d of %d parts ready, %.1f%%, with the season to themselves %d%s; %.1f%% of passages hold, %d never touched; %.1f%% of the worth missed; %d of %d days above the cap; body %.0f min; %d plannings%s",
				r.Ready, r.Parts, 100*r.Share(), r.Alone, known, 100*r.Holds(), r.Untouched, share(r.Missed, r.Worth), r.Over, r.Days, r.Heavy, r.Solved, listed) + paired})
	}
}

package main

import (
	"fmt"
	"slices"

	"primaprova/model"
	"primaprova/model/invent"
)

// besideSeconds is what another solver gets in these groups where -seconds names none, of the processor.
const besideSeconds = 100

// midsize plans seasons of six to ten weeks, every other one tight, and gives HiGHS the
// written-out program of each, wish by wish from the greedy plan: how many of ours are worse in
// the order of the wishes. -first and -seeds say which.
func (b *bench) midsize() {
	b.beside("midsize", func(seed uint64) invent.Size {
		z := invent.Grown(6+int(seed%5), 0, seed%3 == 0, seed)
		z.Programmes, z.Parts, z.Passages, z.Lead, z.Tightness = z.Weeks/2, 2, 12, 24, []float64{0.5, 0.95}[seed/5%2]
		return z
	}, "highs", model.Spacing)
}

// overfull plans small seasons that ask for more than there is, without the written-out
// program, and gives that to CP-SAT for coverage alone: how far ours is above.
func (b *bench) overfull() {
	b.beside("overfull", func(seed uint64) invent.Size {
		return invent.Size{Weeks: 3 + int(seed%3), Programmes: 2, Parts: 2, Passages: 6, Lead: 18, Irregular: seed%2 == 0,
			Tightness: 1.15 + 0.15*float64(seed%4), Seed: seed}
	}, "cpsat", model.Coverage, "compact")
}

// beside plans a season of each seed, without some operators, and has another solver plan it
// too; up to a wish they are compared. Neither spends anything of a wish on those after it.
func (b *bench) beside(group string, size func(seed uint64) invent.Size, do string, last model.Wish, off ...string) {
	seconds := b.seconds
	if seconds == 0 {
		seconds = besideSeconds
	}
	worse, better, proven, failed := 0, 0, 0, 0
	var above []float64
	for seed := b.lives.First; seed < b.lives.First+uint64(b.seeds) && b.ctx.Err() == nil; seed++ {
		z := size(seed)
		b.doing("%s: season %d", group, seed)
		ours := b.child(task{Do: "solve", Size: &z, Work: b.work, Strict: true, Off: off})
		theirs := b.child(task{Do: do, Size: &z, Busy: seconds})
		what := fmt.Sprintf("season %d, %d weeks, work for %.2f of the room", seed, z.Weeks, z.Tightness)
		b.add(ours.row(group, what+": ours"))
		b.add(theirs.row(group, what+": "+do))
		if ours.Failure != "" || theirs.Failure != "" {
			failed++
			continue
		}
		us, them := measures(ours.Wishes), measures(theirs.Wishes)
		clear(us[last+1:])
		clear(them[last+1:])
		if w := theirs.Wishes[last]; w.Value == w.Bound {
			proven++
		}
		above = append(above, gap(model.WishValue{Value: us[last], Bound: them[last]}))
		switch {
		case them.Less(us):
			worse++
		case us.Less(them):
			better++
		}
	}
	b.add(row{group: group, what: "verdict", note: fmt.Sprintf("of %d seasons ours is worse in %d and better in %d; %v proven by %s in %d; %d failed", b.seeds, worse, better, last, do, proven, failed)})
	if len(above) > 0 {
		b.add(row{group: group, what: fmt.Sprintf("%v above the other's", last), note: fmt.Sprintf("median %s, worst %s", percent(median(above)), percent(slices.Max(above)))})
	}
}

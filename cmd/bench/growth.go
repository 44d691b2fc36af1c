package main

import (
	"fmt"

	"primaprova/model/invent"
)

func demoSize(seed int) invent.Size { return invent.Demo(uint64(seed)) }

// growth plans longer seasons of equal density, and seasons with more
// programmes at hand at once.
func (b *bench) growth() {
	for _, irregular := range []bool{true, false} {
		recipes := map[bool]string{true: "no two recipes alike", false: "ordinary recipes"}[irregular]
		for _, weeks := range []int{10, 20, 40, 80, 160} {
			b.grown(fmt.Sprintf("%d weeks, %s", weeks, recipes), invent.Grown(weeks, 0, irregular, 1))
		}
		for atOnce := 1; atOnce <= 6; atOnce++ {
			b.grown(fmt.Sprintf("20 weeks, %d programmes at once, %s", atOnce, recipes), invent.Grown(20, atOnce, irregular, 1))
		}
	}
}

// grown plans one season and says what a week of it takes.
func (b *bench) grown(what string, z invent.Size) {
	if b.ctx.Err() != nil {
		return
	}
	b.doing("growth: %s", what)
	r := b.child(task{Do: "solve", Size: &z, Work: b.work})
	if r.Failure == "" {
		weeks := float64(z.Weeks)
		r.Note = fmt.Sprintf("per week: %.3f s, %.3f cpu s, %.2f MB", r.Seconds/weeks, r.CPU/weeks, r.Megabytes/weeks)
	}
	b.add(r.row("growth", what))
}

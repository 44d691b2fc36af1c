package main

import (
	"fmt"
	"path/filepath"

	"primaprova/model"
)

// engines compares on one season: ours, greedy alone, and the whole program
// given to other solvers, each with the same seconds.
func (b *bench) engines() {
	const group = "engines"
	b.doing("engines: ours")
	ours := b.child(task{Do: "solve", File: b.demo, Work: b.work})
	b.add(ours.row(group, "ours"))
	b.doing("engines: greedy")
	first := b.child(task{Do: "greedy", File: b.demo})
	b.add(first.row(group, "greedy alone"))
	seconds := b.seconds
	if seconds == 0 {
		seconds = max(1, ours.Seconds)
	}
	compared := []report{first}
	for _, e := range []struct{ do, what string }{
		{"highs", "HiGHS, whole program, wish by wish from the greedy plan"},
		{"cpsat", "CP-SAT, likewise"},
	} {
		b.doing("engines: %s", e.what)
		r := b.child(task{Do: e.do, File: b.demo, Seconds: seconds})
		b.add(r.row(group, e.what))
		compared = append(compared, r)
	}
	mps := filepath.Join(b.folder, "season.mps")
	b.doing("engines: writing the program")
	written := b.child(task{Do: "program", File: b.demo, MPS: mps})
	b.add(written.row(group, "the program as MPS"))
	if written.Failure == "" {
		for _, o := range outsiders {
			b.doing("engines: %s", o.name)
			r := b.outside(o, mps, seconds)
			b.add(r.row(group, o.name+", weighted sum of the wishes, from nothing"))
			compared = append(compared, r)
		}
	}
	b.verdict(group, ours, compared, seconds)
}

// verdict says whether anyone else's plan is better than ours in the order of
// the wishes, and after how few seconds ours is as good as the best of them.
func (b *bench) verdict(group string, ours report, others []report, seconds float64) {
	better := 0
	var best *report
	for i := range others {
		r := &others[i]
		if r.Failure != "" || len(r.Wishes) == 0 {
			continue
		}
		if len(ours.Wishes) == 0 || measures(r.Wishes).Less(measures(ours.Wishes)) {
			better++
		}
		if best == nil || measures(r.Wishes).Less(measures(best.Wishes)) {
			best = r
		}
	}
	b.add(row{group: group, what: "verdict", note: fmt.Sprintf("%d of %d others better than ours in the order of the wishes", better, len(others))})
	if best == nil || better > 0 {
		return
	}
	for limit := seconds / 1024; limit <= seconds && b.ctx.Err() == nil; limit *= 2 {
		b.doing("engines: ours, stopped after %.2g s", limit)
		r := b.child(task{Do: "solve", File: b.demo, Work: b.work, Seconds: limit})
		if r.Failure == "" && !measures(best.Wishes).Less(measures(r.Wishes)) {
			out := r.row(group, "ours, as good as the best of the others")
			out.note = fmt.Sprintf("stopped after %.2g s; %.1f times faster than the seconds of the others", limit, seconds/max(1e-3, r.Seconds))
			b.add(out)
			return
		}
	}
}

func measures(w []model.WishValue) (m model.Measures) {
	for i := range w {
		m[i] = w[i].Value
	}
	return m
}

// generated plans seasons of the demo's size: median and worst.
func (b *bench) generated() {
	const group = "generated"
	var all []report
	failed := 0
	for seed := 1; seed <= b.seeds && b.ctx.Err() == nil; seed++ {
		b.doing("generated: season %d of %d", seed, b.seeds)
		z := demoSize(seed)
		r := b.child(task{Do: "solve", Size: &z, Work: b.work})
		b.add(r.row(group, fmt.Sprintf("season %d", seed)))
		if r.Failure != "" {
			failed++
			continue
		}
		all = append(all, r)
	}
	b.summed(group, "", all, failed)
}

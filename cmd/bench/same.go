package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"primaprova/io/planfile"
	"primaprova/io/seasonfile"
	"primaprova/model/invent"
	"primaprova/solver"
)

// same plans two seasons again and again. In the second one moves find room for
// everything while a bound of that is being proven, which ends the proof.
func (b *bench) same() {
	b.sameSeason("10 weeks", invent.Grown(10, 0, true, 1))
	z := invent.Grown(12, 6, true, 1)
	z.Passages = 8
	b.sameSeason("12 weeks, 6 programmes at once", z)
}

// sameSeason plans one season again and again, every other time on a busy machine,
// and counts the different plans.
func (b *bench) sameSeason(what string, z invent.Size) {
	plans := map[string]int{}
	var seconds [2][]float64
	failures := ""
	for i := range b.runs {
		if b.ctx.Err() != nil {
			return
		}
		b.doing("same, %s: run %d of %d", what, i+1, b.runs)
		load := i % 2
		rest := func() {}
		if load == 1 {
			rest = b.busy()
		}
		r := b.child(task{Do: "solve", Size: &z, Work: b.work})
		rest()
		if r.Failure != "" {
			failures = "; FAILED: " + r.Failure
			continue
		}
		plans[r.Hash]++
		seconds[load] = append(seconds[load], r.Seconds)
	}
	b.add(row{group: "same", what: what + ", half of the runs under load", seconds: median(append(seconds[0], seconds[1]...)),
		note: fmt.Sprintf("%d runs, %d different plans; median %.2f s at rest, %.2f s under load%s",
			b.runs, len(plans), median(seconds[0]), median(seconds[1]), failures)})
}

// busy keeps every thread's worth of processor at work until the function it
// gives is called.
func (b *bench) busy() (rest func()) {
	ctx, cancel := context.WithCancel(b.ctx)
	var all []*exec.Cmd
	self, err := os.Executable()
	for range threads {
		cmd := exec.CommandContext(ctx, self, childFlag)
		cmd.Stdin = strings.NewReader(`{"Do":"busy"}`)
		if err == nil && cmd.Start() == nil {
			all = append(all, cmd)
		}
	}
	return func() {
		cancel()
		for _, cmd := range all {
			_ = cmd.Wait() // it was killed, and says so
		}
	}
}

const starts = 20

// start measures whole processes of bin/primaprova, from the command to its end.
func (b *bench) start() {
	const group = "start"
	season, err := b.planned()
	if err != nil {
		b.add(row{group: group, what: "show", note: "FAILED: " + err.Error()})
		return
	}
	on := "2027-01-20"
	for _, c := range []struct {
		what, note string
		times      int
		args       []string
	}{
		{"show, a day", "", starts, []string{"show", season, "--on", on}},
		{"show load, the season", "", starts, []string{"show", "load", season}},
		{"check", "", starts, []string{"check", season}},
		{"plan, cut short at once", "to the first audited plan, its file written", 5, []string{"plan", season, "--anew", "--limit", "1ms"}},
	} {
		b.doing("start: %s", c.what)
		r, ok := b.processes(group, c.what, c.times, c.args, "PRIMAPROVA_TODAY=2027-01-10")
		if ok && c.note != "" {
			r.note += "; " + c.note
		}
		b.add(r)
	}
}

// planned puts the season with a first plan into the temporary folder.
func (b *bench) planned() (season string, err error) {
	raw, err := os.ReadFile(b.demo)
	if err != nil {
		return "", err
	}
	season = filepath.Join(b.folder, "season.yaml")
	if err := os.WriteFile(season, raw, 0o600); err != nil {
		return "", err
	}
	f, err := seasonfile.Read(season)
	if err != nil {
		return "", err
	}
	p, err := solver.Greedy(f.Season, solver.Options{})
	if err != nil {
		return "", err
	}
	p.Season.File, p.Season.SHA256 = "season.yaml", f.SHA256
	return season, planfile.Write(filepath.Join(b.folder, "season.plan.json"), p)
}

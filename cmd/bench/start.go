package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"time"

	"primaprova/io/planfile"
	"primaprova/io/seasonfile"
	"primaprova/solver"
)

const (
	starts      = 20
	binary      = "bin/primaprova"
	exitLeftOut = 3
)

// start measures whole processes of bin/primaprova, from the command to its end.
func (b *bench) start() {
	const group = "start"
	season, err := b.planned()
	if err != nil {
		b.add(row{group: group, what: "show", note: "FAILED: " + err.Error()})
		return
	}
	program, err := filepath.Abs(binary)
	if _, statErr := os.Stat(binary); err != nil || statErr != nil {
		b.add(row{group: group, what: binary, note: "not built: make " + binary})
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
		var seconds, cpu, memory []float64
		failure := ""
		for range c.times {
			cmd := exec.CommandContext(b.ctx, program, c.args...)
			cmd.Dir = b.folder
			cmd.Env = append(os.Environ(), "PRIMAPROVA_TODAY=2027-01-10")
			at := time.Now()
			said, err := cmd.CombinedOutput()
			seconds = append(seconds, time.Since(at).Seconds())
			// Exit code 3: something is left out, which a first plan may do.
			if err != nil && cmd.ProcessState.ExitCode() != 3 {
				failure = "FAILED: " + why(b.ctx, err, string(said))
				break
			}
			s := cmd.ProcessState
			cpu = append(cpu, (s.UserTime() + s.SystemTime()).Seconds())
			memory = append(memory, residentPeak(s))
		}
		r := row{group: group, what: c.what, seconds: median(seconds), cpu: median(cpu), megabytes: median(memory),
			note: fmt.Sprintf("median of %d whole processes", c.times)}
		if c.note != "" {
			r.note += "; " + c.note
		}
		if failure != "" {
			r.note = failure
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

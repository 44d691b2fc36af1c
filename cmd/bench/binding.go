package main

import (
	"bytes"
	"context"
	_ "embed"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"

	"primaprova/model/invent"
	"primaprova/solver"
	"primaprova/solver/highs"
	"primaprova/solver/ortools"
)

//go:embed binding.py
var bindingHighspy string

//go:embed binding_ortools.py
var bindingOrtools string

//go:embed binding_ctypes.py
var bindingCtypes string

// other is a way to the engine from Python. Highspy carries a build of its own;
// the other two load the very file that we load.
type other struct{ name, code string }

var others = []other{
	{"the ortools package (MathOpt)", bindingOrtools},
	{"the same library by ctypes", bindingCtypes},
	{"highspy, another build", bindingHighspy},
}

// binding sets our binding of HiGHS against the ways to it from Python, on the
// same program file, in pairs. All end by themselves: no clock cuts in.
func (b *bench) binding() {
	const group = "binding"
	for _, c := range []struct {
		what    string
		relaxed int
		size    invent.Size
	}{
		{"six weeks to the optimum", 0, invent.Size{Weeks: 6, Programmes: 2, Parts: 2, Passages: 4, Lead: 28, Tightness: 0.6, Irregular: true, Seed: 1}},
		{"eight weeks, the linear relaxation", 1, invent.Size{Weeks: 8, Programmes: 3, Parts: 3, Passages: 8, Lead: 28, Tightness: 0.85, Irregular: true, Seed: 1}},
	} {
		mps := filepath.Join(b.folder, "binding.mps")
		if r := b.child(task{Do: "program", Size: &c.size, MPS: mps}); r.Failure != "" {
			b.add(row{group: group, what: c.what, note: "FAILED: " + r.Failure})
			continue
		}
		for _, o := range others {
			b.doing("binding: %s, %s", c.what, o.name)
			b.add(b.pair(group, c.what, mps, c.relaxed, o))
		}
	}
}

// pair gives the medians of the ratios, ours over the other's: wall clock and
// processor time from the opened file to the answer, and processor time of the
// whole processes.
func (b *bench) pair(group, what, mps string, relaxed int, o other) row {
	out := row{group: group, what: what}
	var wall, cpu, whole, seconds, processor []float64
	same := "equal work: "
	for i := range b.pairs {
		var r [2]report
		// Who comes first alternates, so that neither always finds the file warm.
		for j := range 2 {
			if who := (i + j) % 2; who == 0 {
				r[0] = b.child(task{Do: "file", MPS: mps, Relaxed: relaxed})
			} else {
				r[1] = b.python(o, mps, relaxed)
			}
		}
		for _, r := range r {
			if r.Failure != "" {
				out.note = "FAILED: " + r.Failure
				return out
			}
		}
		if r[0].Work == "" || !strings.HasPrefix(r[0].Work, r[1].Work) { // MathOpt tells no version
			same = fmt.Sprintf("NOT equal work: %s against ", r[0].Work)
		}
		wall, cpu = append(wall, r[0].Seconds/r[1].Seconds), append(cpu, r[0].CPU/r[1].CPU)
		whole = append(whole, r[0].Process/r[1].Process)
		seconds, processor = append(seconds, r[0].Seconds), append(processor, r[0].CPU)
		if i == b.pairs-1 {
			same += r[1].Work
		}
	}
	out.seconds, out.cpu = median(seconds), median(processor)
	out.note = fmt.Sprintf("binding over %s, median of %d pairs: wall %.3f, cpu %.3f, cpu of the whole process %.3f; %s", o.name, b.pairs, median(wall), median(cpu), median(whole), same)
	return out
}

// solveFile reads a program file and solves it through our binding.
func solveFile(t *task) (report, error) {
	lib, err := highsLibrary()
	if err != nil {
		return report{}, err
	}
	o := highs.Options{Threads: 1, Raw: map[string]any{"solve_relaxation": t.Relaxed == 1}}
	at, cpu := time.Now(), solver.Processor()
	r, err := lib.SolveFile(context.Background(), t.MPS, o)
	if err != nil {
		return report{}, err
	}
	return report{Seconds: time.Since(at).Seconds(), CPU: solver.Processor() - cpu,
		Work: fmt.Sprintf("objective %.6g, %d nodes, %d iterations, HiGHS %s", r.Objective, r.Nodes, r.LPIterations, lib.Version())}, nil
}

// python does the same through Python.
func (b *bench) python(o other, mps string, relaxed int) report {
	library, err := ortools.Locate(b.ctx, ortools.HiGHS, "")
	if err != nil {
		return report{Failure: err.Error()}
	}
	python := os.Getenv("PYTHON")
	if python == "" {
		python = "python3"
	}
	cmd := exec.CommandContext(b.ctx, python, "-c", o.code, mps, fmt.Sprint(relaxed), library)
	cmd.Env = append(os.Environ(), "PYTHONPATH="+references())
	var fault bytes.Buffer
	cmd.Stderr = &fault
	said, err := cmd.Output()
	if err != nil {
		return report{Failure: why(b.ctx, err, fault.String())}
	}
	var r report
	if err := json.Unmarshal(said, &r); err != nil {
		return report{Failure: err.Error()}
	}
	r.Process = (cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()).Seconds()
	return r
}

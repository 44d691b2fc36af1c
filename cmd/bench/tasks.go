package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"os"
	"time"

	"primaprova/io/seasonfile"
	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver"
	"primaprova/solver/compact"
	"primaprova/solver/cpsat"
	"primaprova/solver/highs"
	"primaprova/solver/ortools"
)

// tasks are what a child can do, by name.
var tasks = map[string]func(*task) (report, error){
	"greedy":  greedy,
	"solve":   solve,
	"highs":   func(t *task) (report, error) { return whole(t, wholeHiGHS) },
	"cpsat":   func(t *task) (report, error) { return whole(t, wholeCPSAT) },
	"program": writeProgram,
	"point":   fromPoint,
	"late":    late,
	"file":    solveFile,
	"busy":    func(*task) (report, error) { select {} },
}

// season gives the season of a task.
func (t *task) season() (*model.Season, error) {
	if t.Size != nil {
		return invent.Season(*t.Size), nil
	}
	f, err := seasonfile.Read(t.File)
	if err != nil {
		return nil, err
	}
	return f.Season, nil
}

func highsLibrary() (*highs.Library, error) {
	path, err := ortools.Locate(context.Background(), ortools.HiGHS, "")
	if err != nil {
		return nil, err
	}
	return highs.Open(path)
}

func cpsatLibrary() (*cpsat.Library, error) {
	path, err := ortools.Locate(context.Background(), ortools.CPSAT, "")
	if err != nil {
		return nil, err
	}
	return cpsat.Open(path)
}

// describe reports on a plan. It has passed the audit: the solver gives no other.
func describe(p *model.Plan, since time.Time) (report, error) {
	b, err := json.Marshal(p)
	if err != nil {
		return report{}, err
	}
	sum := sha256.Sum256(b)
	return report{Seconds: time.Since(since).Seconds(), Status: string(p.Provenance.Status), Wishes: p.Provenance.Wishes,
		Left: len(p.Unplaced), Hash: hex.EncodeToString(sum[:])}, nil
}

func greedy(t *task) (report, error) {
	s, err := t.season()
	if err != nil {
		return report{}, err
	}
	at := time.Now()
	p, err := solver.Greedy(s, solver.Options{})
	if err != nil {
		return report{}, err
	}
	// Nothing is proven: the plan's own values stand in its bounds.
	for i := range p.Provenance.Wishes {
		p.Provenance.Wishes[i].Bound = 0
	}
	r, err := describe(p, at)
	r.First = r.Seconds
	return r, err
}

// limited gives a context that ends with the task's limit, if it has one.
func (t *task) limited() (context.Context, context.CancelFunc) {
	if t.Seconds > 0 {
		return context.WithTimeout(context.Background(), time.Duration(t.Seconds*float64(time.Second)))
	}
	ctx, cancel := context.WithCancel(context.Background())
	if t.Busy > 0 {
		go func() {
			for ctx.Err() == nil && solver.Processor() < t.Busy {
				time.Sleep(20 * time.Millisecond)
			}
			cancel()
		}()
	}
	return ctx, cancel
}

// solve plans with ours. The first plan is what Solve itself begins with.
func solve(t *task) (report, error) {
	s, err := t.season()
	if err != nil {
		return report{}, err
	}
	lib, err := highsLibrary()
	if err != nil {
		return report{}, err
	}
	at := time.Now()
	if _, err := solver.Greedy(s, solver.Options{}); err != nil {
		return report{}, err
	}
	first := time.Since(at).Seconds()
	at = time.Now()
	ctx, cancel := t.limited()
	defer cancel()
	params := solver.Tuned
	params.Off = t.Off
	o := solver.Options{Engine: lib, Tolerance: model.DefaultTolerance, Work: t.Work, Params: &params}
	if t.Strict {
		o.Tolerance = model.Tolerance{}
	}
	p, err := solver.Solve(ctx, s, o)
	if err != nil {
		return report{}, err
	}
	r, err := describe(p, at)
	r.First = first
	return r, err
}

// threads is what every solver gets that can use more than one.
const threads = 2

func wholeHiGHS() (compact.WholeEngine, error) {
	lib, err := highsLibrary()
	if err != nil {
		return nil, err
	}
	return compact.ByHighs(lib, highs.Options{Threads: threads}), nil
}

func wholeCPSAT() (compact.WholeEngine, error) {
	lib, err := cpsatLibrary()
	if err != nil {
		return nil, err
	}
	return compact.ByCPSAT(lib, cpsat.Params{Workers: threads}), nil
}

// whole solves the whole program at once, wish by wish, from the greedy plan.
func whole(t *task, open func() (compact.WholeEngine, error)) (report, error) {
	s, err := t.season()
	if err != nil {
		return report{}, err
	}
	engine, err := open()
	if err != nil {
		return report{}, err
	}
	at := time.Now()
	ctx, cancel := t.limited()
	defer cancel()
	p, err := compact.SolveWritten(ctx, s, solver.Options{}, engine)
	if err != nil {
		return report{}, err
	}
	return describe(p, at)
}

// writeProgram writes the season's program for solvers outside.
func writeProgram(t *task) (report, error) {
	s, err := t.season()
	if err != nil {
		return report{}, err
	}
	at := time.Now()
	var b bytes.Buffer
	vars, rows, err := compact.WriteProgram(&b, s, solver.Options{})
	if err != nil {
		return report{}, err
	}
	took := time.Since(at).Seconds()
	note := fmt.Sprintf("%d variables, %d rows, %.1f MB of MPS", vars, rows, float64(b.Len())/1e6)
	return report{Seconds: took, Note: note}, os.WriteFile(t.MPS, b.Bytes(), 0o600)
}

// fromPoint turns another solver's point into a plan and measures its wishes.
func fromPoint(t *task) (report, error) {
	s, err := t.season()
	if err != nil {
		return report{}, err
	}
	p, err := compact.FromPoint(s, solver.Options{}, t.Point)
	if err != nil {
		return report{}, err
	}
	return describe(p, time.Now())
}

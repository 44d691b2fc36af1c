package oracle

import (
	"context"
	"time"

	"primaprova/model"
	"primaprova/solver/compact"
	"primaprova/solver/construct"
	"primaprova/solver/highs"
	"primaprova/solver/instance"
)

// Verdict says whether a bid can be placed whole.
type Verdict int

const (
	Untold  Verdict = iota // neither a plan nor a proof was found within the limits
	Fits                   // a plan was found
	FitsNot                // it was proven that there is none
)

// Judge tells whether bids fit. It asks, the cheapest first: whether some
// stretch of days is too crowded; whether the standing plan, or moves from it,
// place everything; the written-out program without wishes, as an integer
// program that has only to be feasible.
type Judge struct {
	Engine *highs.Library
	Seed   uint64
	Runs   int            // engine runs left
	Work   int64          // left, see judge_work.go
	Asked  int            // bids judged
	Days   map[string]int // where the last plan looked for had sessions, by id: the next one begins there
	Ran    int            // engine runs made
}

// judgeMoves is how many moves a passage gets that does not lie as it stands,
// leastMoves and mostMoves how many there are in all; judgeWork the iterations of an engine
// run, and judgeSize the most visit-days of its program: larger ones take
// minutes to come to nothing.
const (
	judgeMoves = 200
	leastMoves = 300
	mostMoves  = 1500
	judgeWork  = 30_000
	JudgeSize  = 4_000
)

// Judge tells whether everything in a problem that was cut to a bid can be
// placed, and gives a state that does it.
func (j *Judge) Judge(ctx context.Context, p *instance.Problem, ordered bool) (Verdict, *instance.State, error) {
	if j.Over() {
		return Untold, nil, nil
	}
	j.Asked++
	if j.SpendDemand(p); TooCrowded(p, ordered) {
		return FitsNot, nil, nil
	}
	st, tries, ok := Soonest(p, j.Seed, ordered)
	if j.SpendTurns(p, tries); ok {
		if st != nil {
			j.Days = dayByID(st)
		}
		return Fits, st, nil
	}
	// A plan that keeps the order is one where it need not be kept, too.
	if st := j.lucky(ctx, p); st != nil {
		return Fits, st, nil
	}
	if ctx.Err() != nil || j.Runs <= 0 || j.Over() || p.VisitDays() > JudgeSize {
		return Untold, nil, nil
	}
	j.Runs--
	j.Ran++
	return j.prove(ctx, p, ordered)
}

// lucky looks for a plan with everything placed, nil where it finds none. It
// begins with where the last plan that was looked for had things: that was made
// for nearly the same bid.
func (j *Judge) lucky(ctx context.Context, p *instance.Problem) *instance.State {
	standAt(p, j.Days)
	st := construct.FromStanding(p)
	if st.Sum[model.Coverage] > 0 {
		im := construct.NewImprover(st, j.Seed)
		im.Free = p.Unplanned(st)
		moves := min(max(judgeMoves*len(im.Free), leastMoves), mostMoves)
		im.Run(ctx, model.Coverage, moves)
		j.spendMoves(p, moves)
	}
	j.Days = dayByID(st)
	if st.Sum[model.Coverage] == 0 {
		return st
	}
	return nil
}

// standAt has sessions stand on other days than those of the standing plan.
func standAt(p *instance.Problem, days map[string]int) {
	at := func(id string, stand *int) {
		if d, ok := days[id]; ok {
			*stand = d
		}
	}
	for i := range p.Parts {
		q := &p.Parts[i]
		for n, st := range instance.Stages {
			at(model.StageID(q.Work.Name, st), &q.Stand[n])
		}
	}
	for i := range p.Passages {
		v := &p.Passages[i]
		for k := range v.Visits {
			at(model.VisitID(v.Work.Name, v.Done+k+1), &v.Visits[k].Stand)
		}
	}
}

// dayByID gives the day of each session that a state places.
func dayByID(s *instance.State) map[string]int {
	out := map[string]int{}
	for i := range s.P.Parts {
		q, f := &s.P.Parts[i], s.Frames[i]
		for n, d := range [3]int16{f.Listen, f.Read, f.Rec} {
			if d >= 0 && [3]int{q.Listen, q.Read, q.Rec}[n] > 0 {
				out[model.StageID(q.Work.Name, instance.Stages[n])] = int(d)
			}
		}
	}
	for i, days := range s.Sched {
		v := &s.P.Passages[i]
		for k, d := range days {
			out[model.VisitID(v.Work.Name, v.Done+k+1)] = int(d)
		}
	}
	return out
}

// prove asks the engine.
func (j *Judge) prove(ctx context.Context, p *instance.Problem, ordered bool) (Verdict, *instance.State, error) {
	w := compact.WriteDemand(p, ordered)
	if w == nil {
		return FitsNot, nil, nil
	}
	r, err := j.Engine.Solve(ctx, w.M, j.options(ctx), nil)
	if err != nil {
		return Untold, nil, err
	}
	j.spendEngine(p, r.LPIterations)
	if r.Status == highs.Infeasible {
		return FitsNot, nil, nil
	}
	if r.X == nil {
		return Untold, nil, nil
	}
	if by, _ := w.M.Violation(r.X); by > compact.PointTolerance {
		return Untold, nil, nil
	}
	if !ordered {
		return Fits, nil, nil
	}
	return Fits, w.State(r.X), nil
}

// Solve asks the engine for the best point of a program, and tells whether
// there is one that is proven best.
func (j *Judge) Solve(ctx context.Context, w *compact.Written) ([]float64, bool) {
	if ctx.Err() != nil || j.Runs <= 0 || j.Over() {
		return nil, false
	}
	j.Runs--
	j.Ran++
	r, err := j.Engine.Solve(ctx, w.M, j.options(ctx), nil)
	if err != nil {
		return nil, false
	}
	if j.spendEngine(w.P, r.LPIterations); r.X == nil || !r.Status.Proven() {
		return nil, false
	}
	by, _ := w.M.Violation(r.X)
	return r.X, by <= compact.PointTolerance
}

func (j *Judge) options(ctx context.Context) highs.Options {
	o := highs.Options{MaxLPIterations: judgeWork, MaxNodes: 2000}
	if end, ok := ctx.Deadline(); ok { // of the player's own limit
		o.TimeLimit = max(time.Until(end), time.Millisecond)
	}
	return o
}

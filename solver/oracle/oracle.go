// Package oracle tells whether a demand - sessions of a season - can be placed: feasible, infeasible, or
// unknown within a counted amount of work. It asks the demand test, earliest due date first, moves, and
// the engine, the cheapest first.
package oracle

import (
	"context"
	"time"

	"primaprova/model"
	"primaprova/solver/compact"
	"primaprova/solver/construct"
	"primaprova/solver/highs"
	"primaprova/solver/instance"
	"primaprova/solver/run"
)

// Verdict says whether a demand can be placed whole.
type Verdict int

const (
	Unknown    Verdict = iota // neither a plan nor a proof was found within the limits
	Feasible                  // a plan was found
	Infeasible                // it was proven that there is none
)

// Oracle tells whether demands fit. It asks, the cheapest first: whether some
// stretch of days is too crowded; whether the standing plan, or moves from it,
// place everything; the written-out program without wishes, as an integer
// program that has only to be feasible.
type Oracle struct {
	Engine *highs.Library
	Seed   uint64
	Runs   int            // engine runs left
	Work   int64          // left, see judge_work.go
	Asked  int            // demands judged
	Days   map[string]int // where the last plan looked for had sessions, by id: the next one begins there
	Ran    int            // engine runs made
}

// Judge tells whether everything in an instance that was cut to a demand can be
// placed, and gives a solution that does it.
func (j *Oracle) Judge(ctx context.Context, p *instance.Instance, ordered bool) (Verdict, *instance.Solution, error) {
	if j.Over() {
		return Unknown, nil, nil
	}
	j.Asked++
	if j.SpendDemand(p); Overloaded(p, ordered) {
		return Infeasible, nil, nil
	}
	st, tries, ok := EarliestDue(p, j.Seed, ordered)
	if j.SpendTurns(p, tries); ok {
		if st != nil {
			j.Days = dayByID(st)
		}
		return Feasible, st, nil
	}
	// A plan that keeps the order is one where it need not be kept, too.
	if st := j.lucky(ctx, p); st != nil {
		return Feasible, st, nil
	}
	if ctx.Err() != nil || j.Runs <= 0 || j.Over() || p.VisitDays() > p.Params.JudgeSize {
		return Unknown, nil, nil
	}
	j.Runs--
	j.Ran++
	return j.prove(ctx, p, ordered)
}

// lucky looks for a plan with everything placed, nil where it finds none. It
// begins with where the last plan that was looked for had things: that was made
// for nearly the same demand.
func (j *Oracle) lucky(ctx context.Context, p *instance.Instance) *instance.Solution {
	standAt(p, j.Days)
	st := construct.FromStanding(p)
	if st.Sum[model.Coverage] > 0 {
		im := construct.NewAnnealer(st, j.Seed)
		im.Free = p.Unplanned(st)
		moves := min(max(p.Params.JudgeMoves*len(im.Free), p.Params.JudgeLeast), p.Params.JudgeMost)
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
func standAt(p *instance.Instance, days map[string]int) {
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
		for k := range q.Sits {
			at(q.Sits[k].ID, &q.Sits[k].Stand)
		}
	}
	for i := range p.Passages {
		v := &p.Passages[i]
		for k := range v.Visits {
			at(model.VisitID(v.Work.Name, v.Done+k+1), &v.Visits[k].Stand)
		}
	}
}

// dayByID gives the day of each session that a solution places.
func dayByID(s *instance.Solution) map[string]int {
	out := map[string]int{}
	for i := range s.P.Parts {
		q, f := &s.P.Parts[i], s.Frames[i]
		for n, d := range [3]instance.Day{f.Listen, f.Read, f.Rec} {
			if d >= 0 && [3]int{q.Listen, q.Read, q.Rec}[n] > 0 {
				for k, id := range q.IDs(n) {
					out[id] = q.SitDay(n, k, int(d))
				}
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
func (j *Oracle) prove(ctx context.Context, p *instance.Instance, ordered bool) (Verdict, *instance.Solution, error) {
	w := compact.WriteDemand(p, ordered)
	if w == nil {
		return Infeasible, nil, nil
	}
	r, err := j.Engine.Solve(ctx, w.M, j.options(ctx, w.P.Params), nil)
	if err != nil {
		return Unknown, nil, err
	}
	j.spendEngine(p, r.LPIterations)
	if r.Status == highs.Infeasible {
		return Infeasible, nil, nil
	}
	if r.X == nil {
		return Unknown, nil, nil
	}
	if by, _ := w.M.Violation(r.X); by > compact.PointTolerance {
		return Unknown, nil, nil
	}
	if !ordered {
		return Feasible, nil, nil
	}
	return Feasible, w.State(r.X), nil
}

// Solve asks the engine for the best point of a program, and tells whether
// there is one that is proven best.
func (j *Oracle) Solve(ctx context.Context, w *compact.Program) ([]float64, bool) {
	if ctx.Err() != nil || j.Runs <= 0 || j.Over() {
		return nil, false
	}
	j.Runs--
	j.Ran++
	r, err := j.Engine.Solve(ctx, w.M, j.options(ctx, w.P.Params), nil)
	if err != nil {
		return nil, false
	}
	if j.spendEngine(w.P, r.LPIterations); r.X == nil || !r.Status.Proven() {
		return nil, false
	}
	by, _ := w.M.Violation(r.X)
	return r.X, by <= compact.PointTolerance
}

func (j *Oracle) options(ctx context.Context, params *run.Params) highs.Options {
	o := highs.Options{MaxLPIterations: params.JudgeWork, MaxNodes: 2000}
	if end, ok := ctx.Deadline(); ok { // of the player's own limit
		o.TimeLimit = max(time.Until(end), time.Millisecond)
	}
	return o
}

// stageSupply is what each stage takes of a day.
var stageSupply = [3]model.Supply{model.ListeningTime, model.PlayingTime, model.ListeningTime}

func stageFits(p *instance.Instance, q *instance.Part, n, minutes, d int) bool {
	if !q.Allowed(n, d) {
		return false
	}
	if n == 1 {
		return p.Plays(d, minutes)
	}
	if n == 0 {
		return q.HearsAll(p.Room, d)
	}
	return p.Hears(d, minutes)
}

func visitFits(p *instance.Instance, v *instance.Visit, d int) bool {
	return v.May(d) && p.Plays(d, v.Minutes) && p.Room[d].Visits > 0
}

// The work of an inquiry is counted, not timed, so that the same question has the same
// answer on any machine. One unit is about a microsecond of a core of 2024, by what was
// measured on a season of 2,900 sessions and one of a hundred; how many units a step
// takes depends on nothing but what it is given.

// Over tells whether an oracle has no work left: it tells nothing then.
func (j *Oracle) Over() bool { return j.Work <= 0 }

// What the steps take.
func (j *Oracle) SpendBuild(p *instance.Instance)  { j.Work -= 500 + p.Size() }
func (j *Oracle) SpendDemand(p *instance.Instance) { j.Work -= 10 + p.Size()/3 }
func (j *Oracle) SpendTurns(p *instance.Instance, tries int) {
	j.Work -= 10 + int64(tries)*(1+p.Size()/8)
}
func (j *Oracle) spendMoves(p *instance.Instance, moves int) {
	j.Work -= int64(moves) * (20 + p.Size()/14)
}
func (j *Oracle) spendEngine(p *instance.Instance, pivots int64) {
	j.Work -= 2000 + pivots*int64(20+p.VisitDays()/25)
}

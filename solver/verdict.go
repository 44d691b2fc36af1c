package solver

import (
	"context"
	"time"

	"primaprova/model"
	"primaprova/solver/highs"
)

// verdict says whether a bid can be placed whole.
type verdict int

const (
	untold  verdict = iota // neither a plan nor a proof was found within the limits
	fits                   // a plan was found
	fitsNot                // it was proven that there is none
)

// judge tells whether bids fit. It asks, the cheapest first: whether some
// stretch of days is too crowded; whether the standing plan, or moves from it,
// place everything; the written-out program without wishes, as an integer
// program that has only to be feasible.
type judge struct {
	engine *highs.Library
	seed   uint64
	runs   int            // engine runs left
	work   int64          // left, see judge_work.go
	asked  int            // bids judged
	days   map[string]int // where the last plan looked for had sessions, by id: the next one begins there
	ran    int            // engine runs made
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
	judgeSize  = 4_000
)

// judge tells whether everything in a problem that was cut to a bid can be
// placed, and gives a state that does it.
func (j *judge) judge(ctx context.Context, p *problem, ordered bool) (verdict, *state, error) {
	if j.over() {
		return untold, nil, nil
	}
	j.asked++
	if j.spendDemand(p); p.tooCrowded(ordered) {
		return fitsNot, nil, nil
	}
	st, tries, ok := p.soonest(j.seed, ordered)
	if j.spendTurns(p, tries); ok {
		if st != nil {
			j.days = st.dayByID()
		}
		return fits, st, nil
	}
	// A plan that keeps the order is one where it need not be kept, too.
	if st := j.lucky(ctx, p); st != nil {
		return fits, st, nil
	}
	if ctx.Err() != nil || j.runs <= 0 || j.over() || p.visitDays() > judgeSize {
		return untold, nil, nil
	}
	j.runs--
	j.ran++
	return j.prove(ctx, p, ordered)
}

// lucky looks for a plan with everything placed, nil where it finds none. It
// begins with where the last plan that was looked for had things: that was made
// for nearly the same bid.
func (j *judge) lucky(ctx context.Context, p *problem) *state {
	p.standAt(j.days)
	st := fromStanding(p)
	if st.sum[model.Coverage] > 0 {
		im := newImprover(st, j.seed)
		im.free = p.unplanned(st)
		moves := min(max(judgeMoves*len(im.free), leastMoves), mostMoves)
		im.run(ctx, model.Coverage, moves)
		j.spendMoves(p, moves)
	}
	j.days = st.dayByID()
	if st.sum[model.Coverage] == 0 {
		return st
	}
	return nil
}

// standAt has sessions stand on other days than those of the standing plan.
func (p *problem) standAt(days map[string]int) {
	at := func(id string, stand *int) {
		if d, ok := days[id]; ok {
			*stand = d
		}
	}
	for i := range p.parts {
		q := &p.parts[i]
		for n, st := range stages {
			at(model.StageID(q.work.Name, st), &q.stand[n])
		}
	}
	for i := range p.passages {
		v := &p.passages[i]
		for k := range v.visits {
			at(model.VisitID(v.work.Name, v.done+k+1), &v.visits[k].stand)
		}
	}
}

// dayByID gives the day of each session that a state places.
func (s *state) dayByID() map[string]int {
	out := map[string]int{}
	for i := range s.p.parts {
		q, f := &s.p.parts[i], s.frames[i]
		for n, d := range [3]int16{f.listen, f.read, f.rec} {
			if d >= 0 && [3]int{q.listen, q.read, q.rec}[n] > 0 {
				out[model.StageID(q.work.Name, stages[n])] = int(d)
			}
		}
	}
	for i, days := range s.sched {
		v := &s.p.passages[i]
		for k, d := range days {
			out[model.VisitID(v.work.Name, v.done+k+1)] = int(d)
		}
	}
	return out
}

// prove asks the engine.
func (j *judge) prove(ctx context.Context, p *problem, ordered bool) (verdict, *state, error) {
	w := p.writeBid(ordered)
	if w == nil {
		return fitsNot, nil, nil
	}
	r, err := j.engine.Solve(ctx, w.m, j.options(ctx), nil)
	if err != nil {
		return untold, nil, err
	}
	j.spendEngine(p, r.LPIterations)
	if r.Status == highs.Infeasible {
		return fitsNot, nil, nil
	}
	if r.X == nil {
		return untold, nil, nil
	}
	if by, _ := w.m.Violation(r.X); by > pointTolerance {
		return untold, nil, nil
	}
	if !ordered {
		return fits, nil, nil
	}
	return fits, w.state(r.X), nil
}

// solve asks the engine for the best point of a program, and tells whether
// there is one that is proven best.
func (j *judge) solve(ctx context.Context, w *written) ([]float64, bool) {
	if ctx.Err() != nil || j.runs <= 0 || j.over() {
		return nil, false
	}
	j.runs--
	j.ran++
	r, err := j.engine.Solve(ctx, w.m, j.options(ctx), nil)
	if err != nil {
		return nil, false
	}
	if j.spendEngine(w.p, r.LPIterations); r.X == nil || !r.Status.Proven() {
		return nil, false
	}
	by, _ := w.m.Violation(r.X)
	return r.X, by <= pointTolerance
}

func (j *judge) options(ctx context.Context) highs.Options {
	o := highs.Options{MaxLPIterations: judgeWork, MaxNodes: 2000}
	if end, ok := ctx.Deadline(); ok { // of the player's own limit
		o.TimeLimit = max(time.Until(end), time.Millisecond)
	}
	return o
}

// Package conflict says why sessions are left out, as a minimal set of the season's facts that lets no
// plan place them, and what would help: the smallest changes of each kind (corrections), each with a plan.
package conflict

import (
	"cmp"
	"context"
	"slices"

	"primaprova/model"
	"primaprova/solver/oracle"
)

// Reasons. A plan places some sessions and leaves others out. What the plan
// places can be placed; with some of the others it cannot. So ask for both:
// the demand is what is placed and what is asked about, and the season's facts
// (fact.go) let no plan place all of it. A reason is a set of facts that does
// so already, of which none can be spared: without any one of them the demand
// of the parts whose work is in the set could be placed.
//
// It is found by deletion (Chinneck and Dravnieks, ORSA J. Computing 3,
// 157-168, 1991; in halves as in Junker, AAAI 2004; both from memory): facts
// are tried away, in an order, halves of a kind and then alone, and stay away
// where the rest still lets no plan do it (filter.go). What was needed beside
// more facts is needed beside fewer, so one pass is enough.
//
// Cost: two to four hundred judgements on a season of forty weeks. Each is a demand test
// (some hundred microseconds), then days filled earliest due first (a millisecond),
// then moves from the plan that stands (mostMoves at most), then an engine run
// (judgeWork iterations at most) where the program is small; nearly all end
// with the second. The engine runs are bounded, and all work is (reasonWork); what was
// not told by then stays, and is counted.

// Why tells why some sessions, given by their ids, can't be placed beside what
// is placed. It ends early when its work is spent, or the context ends; what it has by
// then is told.
//
// Where days are not too crowded for that alone, a plan may still have left
// room that nothing fits. Then everything the parts want is the demand, if it
// has a stretch of days that is too crowded and needs the parts asked about;
// else the engine is asked.
func (q *Inquiry) Why(ctx context.Context, asked []string) (*Reason, error) {
	r := &Reason{Asked: asked, Outcome: Untold}
	ids := map[string]bool{}
	for _, id := range asked {
		ids[id] = true
	}
	k := &question{Inquiry: q, c: oracle.DemandOf(q.p, q.placed, ids), asked: map[int]bool{}}
	for i := range q.p.Parts {
		if asks(q.p, i, ids) {
			k.asked[i] = true
		}
	}
	q.judge.Work = q.o.Share(q.o.Tuning().ReasonWork)
	began := q.judge
	err := k.answer(ctx, r)
	if err == nil && r.Outcome == Forced {
		err = q.changedAlone(ctx, r, oracle.DemandOf(q.p, q.placed, ids))
	}
	r.Bids, r.Runs = q.judge.Asked-began.Asked, q.judge.Ran-began.Ran
	return r, err
}

// tell writes down what is left: the parts asked about first, then the work of
// others, the most first, then the rest in the order of the season file.
func (k *question) tell(r *Reason) {
	for n, in := range k.in {
		if in {
			r.Facts = append(r.Facts, k.facts[n])
		}
	}
	rank := func(f *Fact) int {
		switch {
		case f.Kind == WorkFact && k.asked[f.part]:
			return 0
		case f.Kind == WorkFact:
			return 1
		}
		return 2
	}
	slices.SortStableFunc(r.Facts, func(a, b Fact) int {
		if c := cmp.Compare(rank(&a), rank(&b)); c != 0 || rank(&a) == 2 {
			return c
		}
		return cmp.Compare(b.Minutes, a.Minutes)
	})
	p, ordered := k.without()
	spans, ok := oracle.TimeWindows(p, ordered)
	if !ok {
		return
	}
	t := oracle.MostOverloaded(p, spans, nil)
	from := p.Season.From
	r.Stretch = model.Stretch{Days: model.Range{From: from + model.Date(t.Lo), To: from + model.Date(t.Hi)}, Supply: t.Supply, Need: t.Need, Has: t.Has}
	for i := range p.Parts {
		need := 0
		for _, s := range spans {
			if s.Part == i && s.Lo >= t.Lo && s.Hi <= t.Hi {
				need += s.Uses[t.Supply]
			}
		}
		if need > 0 {
			r.Stretch.Shares = append(r.Stretch.Shares, model.Share{Part: p.Parts[i].Work.Name, Need: need})
		}
	}
	slices.SortStableFunc(r.Stretch.Shares, func(a, b model.Share) int { return cmp.Compare(b.Need, a.Need) })
}

func (k *question) answer(ctx context.Context, r *Reason) (err error) {
	find := func(scope map[int]bool, stretch model.Range) error {
		k.state(scope, stretch)
		r.Outcome = Forced
		r.Untried, err = k.shrink(ctx)
		k.tell(r)
		return err
	}
	if k.alone() {
		return find(k.asked, model.Range{})
	}
	near := k.near()
	if _, _, ok := oracle.EarliestDue(k.beside(near), k.judge.Seed, true); ok {
		r.Outcome = Placed
		return nil
	}
	placed := k.c
	k.c = k.everything()
	if scope, stretch, ok := k.crowd(); ok {
		for _, k.largeFirst = range [2]bool{false, true} {
			r.Whole, r.Facts = true, nil
			if err := find(scope, stretch); err != nil || k.hasAsked() {
				return err
			}
		}
		r.Facts, r.Whole, r.Outcome, r.Untried, r.Stretch = nil, false, Untold, 0, model.Stretch{}
	}
	k.c = placed
	if scope, stretch, ok := k.crowd(); ok {
		return find(scope, stretch)
	}
	return k.byEngine(ctx, near, r, find)
}

// byEngine judges the neighbourhood of what is asked about. Where some plan
// places it while all other parts stay where they stand, or there are none,
// the plan could be bettered.
func (k *question) byEngine(ctx context.Context, near neighbours, r *Reason, find func(map[int]bool, model.Range) error) error {
	v, _, err := k.judge.Judge(ctx, near.problem, true)
	switch {
	case err != nil:
		return err
	case v == oracle.Infeasible:
		return find(near.scope, model.Range{})
	case !near.all:
		v, _, err = k.judge.Judge(ctx, k.beside(near), true)
	}
	if v == oracle.Feasible {
		r.Outcome = Placed
	}
	return err
}

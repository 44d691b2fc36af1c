package conflict

import (
	"context"

	"primaprova/solver/instance"
	"primaprova/solver/oracle"
)

// changedAlone tells of each fact of a reason whether some plan places the demand where
// that fact alone is dropped and everything else of the season stands. A reason leaves
// out what it does without, so without one of its facts there may still be another
// reason.
func (q *Inquiry) changedAlone(ctx context.Context, r *Reason, c oracle.Demand) error {
	q.judge.Work = q.o.Share(q.o.Tuning().AloneWork)
	near := q.looking(r, 0).meets
	for n := range r.Facts {
		f := &r.Facts[n]
		if f.Bundle > 0 || ctx.Err() != nil || q.judge.Over() {
			continue
		}
		keep := func(int) bool { return true }
		var dropped []Fact
		if f.Kind == WorkFact {
			keep = func(i int) bool { return i != f.part }
		} else {
			dropped = []Fact{*f}
		}
		p := relax(q.p, q.o.History, dropped)
		q.judge.SpendBuild(p)
		p, _ = oracle.Restrict(p, c, keep)
		v, err := q.helps(ctx, p, near, f.Kind != OrderFact)
		if err != nil {
			return err
		}
		switch v {
		case oracle.Feasible:
			f.Alone = Yes
		case oracle.Infeasible:
			f.Alone = No
		}
	}
	return nil
}

// helps judges a whole season with a fact dropped: whether days are too crowded, and
// whether the parts near those asked about find room while the others stay; only a small
// one is looked into further.
func (q *Inquiry) helps(ctx context.Context, p *instance.Instance, near map[string]bool, ordered bool) (oracle.Verdict, error) {
	if q.judge.SpendDemand(p); oracle.Overloaded(p, ordered) {
		return oracle.Infeasible, nil
	}
	if ordered {
		_, inner, _ := oracle.Around(p, func(i int) bool { return near[p.Parts[i].Work.Name] })
		_, tries, ok := oracle.EarliestDueNear(inner, q.judge.Seed)
		if q.judge.SpendTurns(inner, tries); ok {
			return oracle.Feasible, nil
		}
	}
	if p.VisitDays() > p.Params.JudgeSize {
		return oracle.Unknown, nil
	}
	v, _, err := q.judge.Judge(ctx, p, ordered)
	return v, err
}

package solver

import "context"

// aloneWork is what it may take to tell which facts of a reason help when changed alone.
const aloneWork = 2_000_000

// changedAlone tells of each fact of a reason whether some plan places the bid where
// that fact alone is dropped and everything else of the season stands. A reason leaves
// out what it does without, so without one of its facts there may still be another
// reason.
func (q *Inquiry) changedAlone(ctx context.Context, r *Reason, c bid) error {
	q.judge.work = q.o.share(aloneWork)
	near := q.looking(r, 0).meets
	for n := range r.Facts {
		f := &r.Facts[n]
		if f.Bundle > 0 || ctx.Err() != nil || q.judge.over() {
			continue
		}
		keep := func(int) bool { return true }
		var dropped []Fact
		if f.Kind == WorkFact {
			keep = func(i int) bool { return i != f.part }
		} else {
			dropped = []Fact{*f}
		}
		p := q.p.relax(q.o.History, dropped)
		q.judge.spendBuild(p)
		p, _ = p.cut(c, keep)
		v, err := q.helps(ctx, p, near, f.Kind != OrderFact)
		if err != nil {
			return err
		}
		switch v {
		case fits:
			f.Alone = Yes
		case fitsNot:
			f.Alone = No
		}
	}
	return nil
}

// helps judges a whole season with a fact dropped: whether days are too crowded, and
// whether the parts near those asked about find room while the others stay; only a small
// one is looked into further.
func (q *Inquiry) helps(ctx context.Context, p *problem, near map[string]bool, ordered bool) (verdict, error) {
	if q.judge.spendDemand(p); p.tooCrowded(ordered) {
		return fitsNot, nil
	}
	if ordered {
		_, inner, _ := p.around(func(i int) bool { return near[p.parts[i].work.Name] })
		_, tries, ok := inner.soonestNear(q.judge.seed)
		if q.judge.spendTurns(inner, tries); ok {
			return fits, nil
		}
	}
	if p.visitDays() > judgeSize {
		return untold, nil
	}
	v, _, err := q.judge.judge(ctx, p, ordered)
	return v, err
}

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
		v, _, err := q.judge.judge(ctx, p, f.Kind != OrderFact)
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

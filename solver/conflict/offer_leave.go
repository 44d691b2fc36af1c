package conflict

import (
	"cmp"
	"context"
	"math"
	"slices"

	"primaprova/model"
	"primaprova/solver/compact"
	"primaprova/solver/instance"
	"primaprova/solver/mip"
	"primaprova/solver/oracle"
)

// leave looks for the passages of least worth that, left out whole, let all
// the rest be placed. Something of each part stays.
func (l *looking) leave(ctx context.Context) (out []Offer, err error) {
	names := l.cheapest(ctx)
	if len(names) == 0 {
		return nil, nil
	}
	v, t, err := l.try(ctx, l.without(names))
	if err != nil || v != oracle.Feasible {
		return nil, err
	}
	slices.Reverse(names) // the dearest stays first, if it can
	names, t, smallest, err := fewer(ctx, l, names, t, l.without)
	if err != nil {
		return nil, err
	}
	slices.Reverse(names)
	o, err := l.offer(ctx, Offer{Kind: LeaveOffer, Passages: names, Smallest: smallest}, t)
	return one(o), err
}

// without leaves passages out of the season.
func (l *looking) without(names []string) change {
	return change{edited(l.p.Season, func(part string, p *model.Part) {
		p.Passages = slices.DeleteFunc(p.Passages, func(q model.Passage) bool {
			return slices.Contains(names, model.PassageName(part, q.ID))
		})
	}), l.goal}
}

// candidate is a passage that may be left out whole.
type candidate struct {
	name  string
	index int // in the instance
	worth int
}

// candidates are the named passages that nothing was done of yet, of the parts
// whose work is a reason, the least worth first. A part with an estimate would
// have others come in their place.
func (l *looking) candidates() (out []candidate) {
	for i := range l.p.Passages {
		v := &l.p.Passages[i]
		w := l.p.Parts[v.Part].Work
		reason := len(l.r.Facts) == 0 || l.parts[w.Name] || slices.ContainsFunc(l.r.Facts, func(f Fact) bool { return f.Kind == WorkFact && f.Part == w.Name })
		if !reason || v.Done > 0 || v.Work.Passage.Unnamed || v.Work.Passage.Upkeep || w.Part.Estimate > 0 || len(w.Passages) < 2 {
			continue
		}
		out = append(out, candidate{v.Work.Name, i, v.Worth(0)})
	}
	slices.SortStableFunc(out, func(a, b candidate) int { return cmp.Compare(a.worth, b.worth) })
	return out
}

// cheapest chooses passages: by the engine where the program is small, else the
// first few by worth.
func (l *looking) cheapest(ctx context.Context) []string {
	all := l.candidates()
	c := l.goal(l.p)
	cut, back := oracle.Restrict(l.p, c, func(int) bool { return true })
	if cut.VisitDays() <= cut.Params.JudgeSize {
		return l.cheapestOf(ctx, all, cut, back)
	}
	var names []string
	stays := map[int]int{} // passages left of each part
	for i := range l.p.Passages {
		stays[l.p.Passages[i].Part]++
	}
	for n := 0; n < len(all) && len(names) < 12 && ctx.Err() == nil; n++ {
		if part := l.p.Passages[all[n].index].Part; stays[part] > 1 {
			stays[part]--
		} else {
			continue
		}
		names = append(names, all[n].name)
		p := instance.New(l.without(names).season, l.o.History, l.o.Standing)
		if cut, _ := oracle.Restrict(p, l.goal(p), func(int) bool { return true }); oracle.Overloaded(cut, true) {
			continue
		}
		if v, _, err := l.try(ctx, l.without(names)); err != nil || v == oracle.Feasible {
			return names
		}
	}
	return nil
}

// cheapestOf asks the engine: with z = 1 for a passage that is left out,
//
//	minimise Σ worth·z    so that    each visit is placed or z = 1
//
// and everything else is placed, and something of each part stays. Nil where it finds nothing within its limits.
func (l *looking) cheapestOf(ctx context.Context, all []candidate, cut *instance.Instance, back oracle.Origin) []string {
	w := compact.WriteRules(cut, true)
	z := make([]mip.Var, len(cut.Passages))
	for i := range z {
		z[i] = instance.None
	}
	for _, c := range all {
		if i := slices.Index(back.Passages, c.index); i >= 0 {
			z[i] = w.M.Bool("", float64(1+c.worth)) // of equals the fewer
		}
	}
	if !w.MustStages() {
		return nil
	}
	for i := range w.Visits {
		for k := range w.Visits[i] {
			t := &w.Visits[i][k]
			switch {
			case z[i] == instance.None:
				if !w.Must(t) {
					return nil
				}
			default:
				w.M.Row("", 1, instance.Inf, t.Placed().Plus(1, compact.Sum{Terms: []mip.Term{{Var: z[i], Coef: 1}}}).Terms...)
			}
		}
	}
	for i := range cut.Parts { // something of each part stays
		var some []mip.Term
		for k := cut.Parts[i].First; k < cut.Parts[i].Last; k++ {
			if z[k] != instance.None {
				some = append(some, mip.Term{Var: z[k], Coef: 1})
			}
		}
		w.M.Row("", math.Inf(-1), float64(cut.Parts[i].Last-cut.Parts[i].First-1), some...)
	}
	x, ok := l.judge.Solve(ctx, w)
	if !ok {
		return nil
	}
	var names []string
	for _, c := range all {
		if i := slices.Index(back.Passages, c.index); i >= 0 && x[z[i]] > 0.5 {
			names = append(names, c.name)
		}
	}
	return names
}

package conflict

import (
	"cmp"
	"context"
	"slices"

	"primaprova/solver/oracle"
)

// The filter that makes a reason of a question: facts are tried away while the
// rest still lets no plan place the demand.
//
// Where some days are too crowded already that is first done by the demand test
// alone, which takes no solving: rules of the craft go first, then the work of
// others, then what the days are like; and once more with the work of others
// first. A set of which that test can spare nothing comes of each, and of the one
// with fewer facts each is judged in full.
//
// Of some facts it may still not be told whether they can be spared. A set
// without them is looked for then: where a season is short by much there are
// many reasons, and one of which everything is known is better than any other.

// easing is the order in which facts are tried away by the demand test, trying
// where each trial may take the engine, which wants few parts first.
var (
	easing = []FactKind{PinFact, HoursFact, ListeningFact, PassagesFact, OnceFact, OrderFact, GapFact, WarmUpFact, DueFact, FoundFact, WorkFact, ArrivalFact, RehearsalFact,
		ServicesFact, CapFact, LightFact, QuietFact, LatestFact, ApartFact, BusyFact, NewFact, BeforeFact, TwoFact, ReturnFact, ToursFact, OffFact, RestFact}
	trying = []FactKind{WorkFact, PinFact, HoursFact, ListeningFact, PassagesFact, WarmUpFact, ServicesFact, OnceFact, OrderFact, GapFact, DueFact, FoundFact, ArrivalFact, RehearsalFact,
		CapFact, LightFact, QuietFact, LatestFact, ApartFact, BusyFact, NewFact, BeforeFact, TwoFact, ReturnFact, ToursFact, OffFact, RestFact}
)

// shrink tries facts away until none can be spared, and gives the number of
// those of which that could not be told.
func (k *question) shrink(ctx context.Context) (untried int, err error) {
	if v, err := k.verdict(ctx, true); err != nil || v != oracle.Infeasible {
		untold, err := k.tryAway(ctx, trying, false)
		if err == nil {
			untold, err = k.together(ctx, untold)
		}
		return len(untold), err
	}
	start, barred := slices.Clone(k.in), make([]bool, len(k.in))
	var best []bool
	var left []int
	for n := range k.p.Params.Swaps {
		if err := k.ease(ctx); err != nil {
			return 0, err
		}
		untold, err := k.settle(ctx)
		if err != nil {
			return 0, err
		}
		if n == 0 || len(untold) < len(left) {
			best, left = slices.Clone(k.in), untold
		}
		if len(untold) == 0 || ctx.Err() != nil || k.judge.Over() || !k.bar(ctx, start, barred, untold) {
			break
		}
	}
	k.in = best
	left, err = k.together(ctx, left)
	return len(left), err
}

// ease tries facts away by the demand test in both orders, and keeps the smaller
// of the two sets.
func (k *question) ease(ctx context.Context) error {
	start, fewest := k.in, 0
	var best []bool
	for _, order := range [2][]FactKind{easing, trying} {
		k.in = slices.Clone(start)
		if _, err := k.tryAway(ctx, order, true); err != nil {
			return err
		}
		n := 0
		for _, in := range k.in {
			if in {
				n++
			}
		}
		if best == nil || n < fewest {
			best, fewest = k.in, n
		}
	}
	k.in = best
	return nil
}

// bar leaves more facts out of the set to begin with, those that it can be too
// crowded without. It tells whether there were any.
func (k *question) bar(ctx context.Context, start, barred []bool, more []int) (some bool) {
	k.in = slices.Clone(start)
	for n, out := range barred {
		k.in[n] = k.in[n] && !out
	}
	for _, n := range more {
		if f := &k.facts[n]; f.Kind == WorkFact && k.asked[f.part] {
			continue
		}
		k.in[n] = false
		if v, _ := k.verdict(ctx, true); v == oracle.Infeasible {
			barred[n], some = true, true
		} else {
			k.in[n] = true
		}
	}
	return some
}

// tryAway tries facts away, kind by kind, and gives those of which it could not be
// told; where only the demand test is asked these are all that stay. What is
// asked about comes last: without it what is placed can be placed, but not so
// where everything is asked for.
func (k *question) tryAway(ctx context.Context, order []FactKind, quick bool) (untold []int, err error) {
	var asked []int
	for _, kind := range order {
		var list []int
		for n := range k.facts {
			f := &k.facts[n]
			switch {
			case f.Kind != kind || !k.in[n]:
			case kind == WorkFact && k.asked[f.part]:
				asked = append(asked, n)
			case kind != WorkFact && !k.concerns(f):
				k.in[n] = false
			default:
				list = append(list, n)
			}
		}
		// Small ones first: what stays should be what counts.
		slices.SortStableFunc(list, func(a, b int) int {
			if k.largeFirst {
				a, b = b, a
			}
			return cmp.Compare(k.facts[a].Minutes, k.facts[b].Minutes)
		})
		left, err := k.spare(ctx, list, quick)
		if err == nil && !quick {
			left, err = k.together(ctx, left)
		}
		if err != nil {
			return left, err
		}
		untold = append(untold, left...)
	}
	for _, n := range asked {
		left, err := k.spare(ctx, []int{n}, quick)
		if err != nil {
			return left, err
		}
		untold = append(untold, left...)
	}
	return untold, nil
}

// settle judges in full whether each of the facts can be spared, and gives those
// of which it could not be told.
func (k *question) settle(ctx context.Context) (untold []int, err error) {
	for n := range k.facts {
		if !k.in[n] {
			continue
		}
		left, err := k.spare(ctx, []int{n}, false)
		if err != nil {
			return nil, err
		}
		untold = append(untold, left...)
	}
	return untold, nil
}

// together tries facts that could not be told one by one all at once. If some
// plan does without all of them they are a bundle: one of the reasons, though
// not known in more detail.
func (k *question) together(ctx context.Context, list []int) (untold []int, err error) {
	if len(list) < 2 {
		return list, nil
	}
	for _, n := range list {
		k.in[n] = false
	}
	v, err := k.verdict(ctx, false)
	if err != nil || v == oracle.Infeasible {
		return nil, err
	}
	if v == oracle.Feasible {
		k.bundles++
	}
	for _, n := range list {
		k.in[n] = true
		if v == oracle.Feasible {
			k.facts[n].Bundle = k.bundles
		}
	}
	if v == oracle.Feasible {
		return nil, nil
	}
	return list, nil
}

// spare tries some facts away, all together, then by halves, and gives those
// of which it could not be told.
func (k *question) spare(ctx context.Context, list []int, quick bool) (untold []int, err error) {
	if len(list) == 0 {
		return nil, nil
	}
	for _, n := range list {
		k.in[n] = false
	}
	v, err := k.verdict(ctx, quick)
	if err != nil || v == oracle.Infeasible {
		return nil, err
	}
	for _, n := range list {
		k.in[n] = true
	}
	if len(list) == 1 {
		if v == oracle.Feasible {
			return nil, nil
		}
		return list, nil
	}
	half := len(list) / 2
	a, err := k.spare(ctx, list[:half], quick)
	if err != nil {
		return a, err
	}
	b, err := k.spare(ctx, list[half:], quick)
	return append(slices.Clone(a), b...), err
}

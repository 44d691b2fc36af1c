package conflict

import (
	"cmp"
	"context"
	"slices"
	"sync"

	"primaprova/model"
	"primaprova/solver/colgen"
	"primaprova/solver/instance"
	"primaprova/solver/oracle"
	"primaprova/solver/pricing"
)

// seek is one kind of change: how it is looked for, and what changes are the
// most of it that could help in part; none where in part it gives up more than
// it brings.
type seek struct {
	look   func(*looking, context.Context) ([]Offer, error)
	widest func(*looking) []change
}

// seeks are the kinds in the order of OfferKind.
var seeks = []seek{
	{(*looking).earlier, (*looking).muchEarlier},
	{(*looking).leave, nil},
	{(*looking).estimate, nil},
	{(*looking).daily, (*looking).allDaily},
	{(*looking).minutes, (*looking).allRaised},
	{(*looking).rest, (*looking).restsPlayed},
}

// Offers looks for all kinds of offer for what a reason is about. most gives
// the most minutes of playing, services and warm-up included, that the player
// would ever do in a day; 0: no more than the caps. What was found before the work was
// spent or the context ended comes back.
func (q *Inquiry) Offers(ctx context.Context, r *Reason, most model.Minutes) (out []Offer, err error) {
	l := q.looking(r, most)
	l.prices = sync.OnceValue(func() []float64 { return l.priced(ctx) })
	l.now = sync.OnceValues(func() (map[string]bool, error) {
		return l.beside().placing(ctx, change{l.p.Season, l.goal}, nil)
	})
	found, errs := make([][]Offer, len(seeks)), make([]error, len(seeks))
	var wg sync.WaitGroup
	for n, kind := range seeks {
		wg.Go(func() { found[n], errs[n] = l.beside().seek(ctx, kind) })
	}
	wg.Wait()
	for n := range seeks {
		if errs[n] != nil {
			return out, errs[n]
		}
		out = append(out, found[n]...)
	}
	last := func(o *Offer) int {
		switch {
		case o.Kind == RestOffer:
			return 2
		case len(o.Left) > 0:
			return 1
		}
		return 0
	}
	slices.SortStableFunc(out, func(a, b Offer) int { return cmp.Compare(last(&a), last(&b)) })
	return out, nil
}

// seek looks for one kind of offer.
func (l *looking) seek(ctx context.Context, kind seek) ([]Offer, error) {
	found, err := kind.look(l, ctx)
	for i := range found {
		found[i].promise(l, l.asked)
	}
	if err == nil && len(found) == 0 && ctx.Err() == nil {
		return l.inPart(ctx, kind)
	}
	return found, err
}

// inPart looks for a kind of offer that helps in part.
func (l *looking) inPart(ctx context.Context, kind seek) ([]Offer, error) {
	if kind.widest == nil || len(l.asked) < 2 {
		return nil, nil
	}
	now, err := l.now() // what of them the season as it is has place for
	if err != nil {
		return nil, err
	}
	var best map[string]bool
	for _, c := range kind.widest(l) {
		some, err := l.placing(ctx, c, now)
		if err != nil {
			return nil, err
		}
		if l.points(some) > l.points(best) {
			best = some
		}
	}
	if l.points(best) <= l.points(now) {
		return nil, nil
	}
	part := *l
	part.asked = best
	out, err := kind.look(&part, ctx)
	for i := range out {
		out[i].promise(l, best)
	}
	return out, err
}

// priced gives by day what a minute more of playing would be worth there, in
// points of coverage: the prices that the linear program over whole parts (master)
// puts on the days' minutes when the parts near those asked about ask for all
// they want, in the room that the others leave as they stand. Rest days have no
// minutes to put a price on. All 0 where the program came to nothing.
func (l *looking) priced(ctx context.Context) []float64 {
	out := make([]float64, l.p.Days)
	if m, err := l.crunch(ctx); err == nil {
		copy(out, m.Duals.Minute)
	}
	return out
}

func (l *looking) crunch(ctx context.Context) (*colgen.Master, error) {
	placed, of := oracle.Restrict(l.p, oracle.DemandOf(l.p, l.placed, nil), func(int) bool { return true })
	_, inner, _ := oracle.Around(placed, func(i int) bool { return l.meets[l.p.Parts[of.Parts[i]].Work.Name] })
	p, back := oracle.Restrict(l.p, oracle.DemandAll(l.p), func(i int) bool { return l.meets[l.p.Parts[i].Work.Name] })
	p.Room = inner.Room
	for i, of := range back.Parts {
		from := &l.p.Parts[of]
		p.Parts[i].ListenWorth, p.Parts[i].ReadWorth, p.Parts[i].RecWorth = from.ListenWorth, from.ReadWorth, from.RecWorth
	}
	for i, of := range back.Passages {
		copy(p.Passages[i].Visits, l.p.Passages[of].Visits) // cut has all worth the same
	}
	m, err := colgen.NewMaster(l.o.Engine, pricing.NewPricer(p, 1), pricing.WholeParts(p), instance.NewSolution(p))
	if m != nil {
		defer m.Close()
	}
	if err != nil {
		return nil, err
	}
	if err := m.Minimise(instance.Constrained(model.Coverage, instance.Unlimited)); err != nil {
		return nil, err
	}
	return m, m.Solve(ctx, l.o.Tuning().PriceRounds+1) // the last round is not priced; prices only say where to look first
}

// worthAround gives what a minute is worth on the days around one, the day
// itself aside, by the best of them.
func (l *looking) worthAround(d model.Date) (most float64) {
	const days = 3
	price := l.prices()
	at := int(d - l.p.Season.From)
	for e := max(0, at-days); e <= min(l.p.Days-1, at+days); e++ {
		if e != at {
			most = max(most, price[e])
		}
	}
	return most
}

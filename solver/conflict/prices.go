package conflict

import (
	"context"

	"primaprova/model"
	"primaprova/solver/colgen"
	"primaprova/solver/instance"
	"primaprova/solver/oracle"
	"primaprova/solver/pricing"
)

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

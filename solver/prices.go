package solver

import (
	"context"

	"primaprova/model"
)

// priceRounds is how often the parts near those asked about are priced anew:
// prices only say where to look first, so they need not be the last ones.
const priceRounds = 12

// priced gives by day what a minute more of playing would be worth there, in
// points of coverage: the prices that the linear program over whole parts (master)
// puts on the days' minutes when the parts near those asked about ask for all
// they want, in the room that the others leave as they stand. Rest days have no
// minutes to put a price on. All 0 where the program came to nothing.
func (l *looking) priced(ctx context.Context) []float64 {
	out := make([]float64, l.p.days)
	if m, err := l.crunch(ctx); err == nil {
		copy(out, m.t.minute)
	}
	return out
}

func (l *looking) crunch(ctx context.Context) (*master, error) {
	placed, of := l.p.cut(l.p.bidOf(l.placed, nil), func(int) bool { return true })
	_, inner, _ := placed.around(func(i int) bool { return l.meets[l.p.parts[of.parts[i]].work.Name] })
	p, back := l.p.cut(l.p.bidAll(), func(i int) bool { return l.meets[l.p.parts[i].work.Name] })
	p.room = inner.room
	for i, of := range back.parts {
		from := &l.p.parts[of]
		p.parts[i].listenV, p.parts[i].readV, p.parts[i].recV = from.listenV, from.readV, from.recV
	}
	for i, of := range back.passages {
		copy(p.passages[i].visits, l.p.passages[of].visits) // cut has all worth the same
	}
	m, err := newMaster(l.o.Engine, newPricer(p, 1), p.wholeParts(), newState(p))
	if m != nil {
		defer m.close()
	}
	if err != nil {
		return nil, err
	}
	if err := m.set(wishAim(model.Coverage, unlimited)); err != nil {
		return nil, err
	}
	for range priceRounds {
		if err := m.run(ctx); err != nil {
			return nil, err
		}
		if added, err := m.round(); err != nil || added == 0 {
			return m, err
		}
	}
	return m, m.run(ctx)
}

// worthAround gives what a minute is worth on the days around one, the day
// itself aside, by the best of them.
func (l *looking) worthAround(d model.Date) (most float64) {
	const days = 3
	price := l.prices()
	at := int(d - l.p.season.From)
	for e := max(0, at-days); e <= min(l.p.days-1, at+days); e++ {
		if e != at {
			most = max(most, price[e])
		}
	}
	return most
}

package conflict

import (
	"cmp"
	"context"
	"math"
	"slices"

	"primaprova/model"
	"primaprova/solver/compact"
	"primaprova/solver/mip"
	"primaprova/solver/oracle"
)

// minutes looks for the fewest days on which a higher cap would let everything
// be placed, and then for the fewest minutes more on these days, in whole steps.
// No cap goes above the most that the player would ever do.
func (l *looking) minutes(ctx context.Context) ([]Offer, error) {
	if l.most <= 0 || !l.has(CapFact) {
		return nil, nil
	}
	days := l.raisable()
	v, t, err := l.try(ctx, l.raised(days, l.most))
	if err != nil || v != oracle.Feasible || len(days) == 0 {
		return nil, err
	}
	days, fewest, err := l.fewest(ctx, days, t)
	if err != nil || len(days) == 0 {
		return nil, err
	}
	s, step := l.p.Season, int(l.p.Season.Habits.Step)
	cap := func(d model.Date, n int) model.Minutes {
		return min(l.most, s.Limits.Playing.On(d)+model.Minutes(n*step))
	}
	top := 0
	for _, d := range days {
		top = max(top, (int(l.most-s.Limits.Playing.On(d))+step-1)/step)
	}
	n, t, smallest, err := l.least(ctx, 1, top, func(n int) change { return l.raisedTo(days, func(d model.Date) model.Minutes { return cap(d, n) }) })
	if err != nil || t == nil {
		return nil, err
	}
	o := Offer{Kind: MinutesOffer, Minutes: model.Minutes(n * step), Dates: days, Smallest: smallest && fewest}
	for _, d := range days {
		o.Caps = append(o.Caps, cap(d, n))
	}
	made, err := l.offer(ctx, o, t)
	return one(made), err
}

// raisable gives the days on which a higher cap could help: those of the caps
// that are reasons, or of the parts asked about, that are no rest days and
// whose cap lies below the most.
func (l *looking) raisable() (out []model.Date) {
	s := l.p.Season
	for d := s.From + model.Date(l.p.Today); d <= s.To; d++ {
		if s.Limits.RestOn(d) || s.Limits.Playing.On(d) >= l.most {
			continue
		}
		reason := slices.ContainsFunc(l.r.Facts, func(f Fact) bool { return f.Kind == CapFact && f.Days.Holds(d) })
		if len(l.r.Facts) == 0 {
			for i := range l.p.Parts {
				q := &l.p.Parts[i]
				reason = reason || l.parts[q.Work.Name] && int(d-s.From) >= q.Lo && int(d-s.From) <= q.Hi
			}
		}
		if reason {
			out = append(out, d)
		}
	}
	return out
}

// raised lifts the caps of some days to the most.
func (l *looking) raised(days []model.Date, most model.Minutes) change {
	return l.raisedTo(days, func(model.Date) model.Minutes { return most })
}

func (l *looking) raisedTo(days []model.Date, cap func(model.Date) model.Minutes) change {
	c := *l.p.Season
	c.Limits.Playing.Dates = slices.Clone(c.Limits.Playing.Dates)
	for _, d := range days {
		c.Limits.Playing.Dates = append(c.Limits.Playing.Dates, model.Dated[model.Minutes]{Range: model.Range{From: d, To: d}, Value: cap(d)})
	}
	return change{&c, l.goal}
}

// fewest chooses as few of the days as will do: by the engine where the program
// is small, else of those that the prices say are worth most. It tells whether fewer were
// shown not to do.
func (l *looking) fewest(ctx context.Context, days []model.Date, t *trial) ([]model.Date, bool, error) {
	if t.cut.VisitDays() <= t.cut.Params.JudgeSize {
		if few := l.fewestOf(ctx, days, t); few != nil {
			return few, true, nil
		}
	}
	from, price := l.p.Season.From, l.prices()
	gain := func(d model.Date) float64 {
		return float64(t.p.Room[d-from].Playing-l.p.Room[d-from].Playing) * (price[d-from] + 1e-3)
	}
	sorted := slices.Clone(days)
	slices.SortStableFunc(sorted, func(a, b model.Date) int { return cmp.Compare(gain(b), gain(a)) })
	most := func(some []model.Date) change { return l.raised(some, l.most) }
	for n := 1; n < 2*len(sorted) && ctx.Err() == nil; n *= 2 {
		some := sorted[:min(n, len(sorted))]
		v, t, err := l.try(ctx, most(some))
		if err != nil {
			return nil, false, err
		}
		if v != oracle.Feasible {
			continue
		}
		some = slices.Clone(some)
		slices.Reverse(some) // the best stay, if they can
		some, _, _, err = fewer(ctx, l, some, t, most)
		slices.Sort(some)
		return some, len(some) == 1, err // no fewer than one will do
	}
	return nil, false, nil
}

// fewestOf asks the engine: with y(d) = 1 for a day whose cap is lifted,
//
//	minimise Σ y    so that    playing on d ≤ room(d) + gain(d)·y(d)
//
// and everything is placed. Nil where it finds nothing proven.
func (l *looking) fewestOf(ctx context.Context, days []model.Date, t *trial) []model.Date {
	w := compact.WriteDemand(t.cut, true)
	if w == nil {
		return nil
	}
	y := make([]mip.Var, len(days))
	for i, day := range days {
		d := int(day - l.p.Season.From)
		y[i] = w.M.Bool("", 1)
		room := l.p.Room[d].Playing
		terms := append(slices.Clone(w.On[d].Playing.Terms), mip.Term{Var: y[i], Coef: -float64(t.p.Room[d].Playing - room)})
		w.M.Row("", math.Inf(-1), float64(room)-w.On[d].Playing.Constant, terms...)
		if before := l.p.Room[d].Held; before < t.p.Room[d].Held {
			return nil // hours do not depend on the cap
		}
	}
	x, ok := l.judge.Solve(ctx, w)
	if !ok {
		return nil
	}
	out := []model.Date{}
	for i, v := range y {
		if x[v] > 0.5 {
			out = append(out, days[i])
		}
	}
	return out
}

// rest looks for one rest day on which playing would let everything be placed:
// where the days around say that it is worth most, first. It is the last of
// the offers, and whoever says it says the caution with it.
func (l *looking) rest(ctx context.Context) ([]Offer, error) {
	for _, d := range l.restDays() {
		v, t, err := l.try(ctx, l.playing(d))
		if err != nil || ctx.Err() != nil {
			return nil, err
		}
		if v != oracle.Feasible {
			continue
		}
		o, err := l.offer(ctx, Offer{Kind: RestOffer, Dates: []model.Date{d}, Smallest: true}, t)
		if o == nil && err == nil {
			continue
		}
		return one(o), err
	}
	return nil, nil
}

// restDays gives the rest days near the parts asked about on which something
// could be played, those first that would be worth most by the prices of the
// days around.
func (l *looking) restDays() (days []model.Date) {
	s := l.p.Season
	if !l.has(RestFact) {
		return nil
	}
	for d := s.From + model.Date(l.p.Today); d <= s.To; d++ {
		if r := s.RoomOn(d); r.Rest && !r.Off && r.Beside > 0 && l.near(d) {
			days = append(days, d)
		}
	}
	worth := map[model.Date]float64{}
	for _, d := range days {
		worth[d] = float64(s.RoomOn(d).Beside) * (l.worthAround(d) + 1e-3) // without prices those with most room
	}
	slices.SortStableFunc(days, func(a, b model.Date) int { return cmp.Compare(worth[b], worth[a]) })
	return days
}

// playing has one rest day be none.
func (l *looking) playing(d model.Date) change {
	c := *l.p.Season
	c.Limits.Played = append(slices.Clone(c.Limits.Played), model.Range{From: d, To: d})
	return change{&c, l.goal}
}

// near tells whether a day lies among those of a part asked about.
func (l *looking) near(d model.Date) bool {
	at := int(d - l.p.Season.From)
	for i := range l.p.Parts {
		if q := &l.p.Parts[i]; l.parts[q.Work.Name] && q.Lo <= at && at <= q.Hi {
			return true
		}
	}
	return false
}

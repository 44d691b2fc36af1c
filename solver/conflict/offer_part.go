package conflict

import (
	"cmp"
	"context"
	"maps"
	"slices"

	"primaprova/model"
	"primaprova/solver/instance"
	"primaprova/solver/oracle"
)

// Offers that help in part. Where no change of a kind lets all be placed that is
// asked about, as much of it as some change does is chosen, and the same search
// is made for that: the smallest change that lets this much be placed beside all
// that is placed. What the season as it is has place for already is no offer.

func (l *looking) muchEarlier() (out []change) {
	for _, w := range l.awaited() {
		out = append(out, l.arriving(w.Name, min(l.wait(w), l.o.Tuning().PartDays)))
	}
	return out[:min(len(out), l.o.Tuning().PartMost)]
}

func (l *looking) allDaily() []change {
	if names := l.spaced(); l.has(GapFact) && len(names) > 0 {
		return []change{l.dailyOf(names)}
	}
	return nil
}

func (l *looking) allRaised() []change {
	if days := l.raisable(); l.most > 0 && l.has(CapFact) && len(days) > 0 {
		return []change{l.raised(days, l.most)}
	}
	return nil
}

func (l *looking) restsPlayed() (out []change) {
	for _, d := range l.restDays() {
		out = append(out, l.playing(d))
	}
	return out[:min(len(out), l.o.Tuning().PartMost)]
}

// promise notes what of the sessions asked about an offer lets be placed.
func (o *Offer) promise(l *looking, ids map[string]bool) {
	o.Promised, o.Places, o.Asked = slices.Sorted(maps.Keys(ids)), l.points(ids), l.points(l.asked)
	for _, id := range slices.Sorted(maps.Keys(l.asked)) {
		if !ids[id] {
			o.Left = append(o.Left, id)
		}
	}
}

// placing chooses of the sessions asked about as many as a change lets be placed:
// those that lie ahead soonest first and of these what is worth most, all
// together, then by halves. It begins with some that are known to go.
func (l *looking) placing(ctx context.Context, c change, with map[string]bool) (map[string]bool, error) {
	in := map[string]bool{}
	maps.Copy(in, with)
	c.bid = func(p *instance.Instance) oracle.Demand { return oracle.DemandOf(p, l.placed, in) }
	var add func(list []string) error
	add = func(list []string) error {
		if len(list) == 0 || ctx.Err() != nil {
			return nil
		}
		for _, id := range list {
			in[id] = true
		}
		v, _, err := l.try(ctx, c)
		if err != nil || v == oracle.Feasible {
			return err
		}
		for _, id := range list {
			delete(in, id)
		}
		if len(list) == 1 {
			return nil
		}
		if err := add(list[:len(list)/2]); err != nil {
			return err
		}
		return add(list[len(list)/2:])
	}
	var list []string
	for _, w := range l.p.Season.Wanted(l.o.History) {
		if l.asked[w.ID] && !in[w.ID] {
			list = append(list, w.ID)
		}
	}
	visit := map[string]int{}
	for i := range l.p.Passages {
		v := &l.p.Passages[i]
		for k := range v.Visits {
			visit[model.VisitID(v.Work.Name, v.Done+k+1)] = v.Done + k + 1
		}
	}
	slices.SortStableFunc(list, func(a, b string) int {
		return cmp.Or(cmp.Compare(visit[a], visit[b]), cmp.Compare(l.worth[b], l.worth[a]))
	})
	return in, add(list)
}

// points gives what some sessions are worth.
func (l *looking) points(ids map[string]bool) (sum int) {
	for id := range ids {
		sum += l.worth[id]
	}
	return sum
}

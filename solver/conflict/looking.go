package conflict

import (
	"context"
	"slices"

	"primaprova/model"
	"primaprova/solver/instance"
	"primaprova/solver/oracle"
)

// looking is a search for offers.
type looking struct {
	*Inquiry
	r     *Reason
	most  model.Minutes
	asked map[string]bool // in part: those that are looked for
	all   map[string]bool // asked about
	parts map[string]bool // asked about
	meets map[string]bool // parts whose days meet theirs, or those of the reason
	worth map[string]int  // of each session of the season
	// Found out when first asked for; the kinds of offer are looked for side by side.
	prices func() []float64
	now    func() (map[string]bool, error)
}

func (q *Inquiry) looking(r *Reason, most model.Minutes) *looking {
	l := &looking{Inquiry: q, r: r, most: most, asked: map[string]bool{}, all: map[string]bool{}, parts: map[string]bool{}}
	for _, id := range r.Asked {
		l.asked[id], l.all[id] = true, true
	}
	for i := range q.p.Parts {
		if asks(q.p, i, l.asked) {
			l.parts[q.p.Parts[i].Work.Name] = true
		}
	}
	l.meets, l.worth = l.close(), map[string]int{}
	for _, w := range q.p.Season.Wanted(q.o.History) {
		l.worth[w.ID] = w.Value
	}
	return l
}

// goal is the demand of what is placed and what is asked about.
func (l *looking) goal(p *instance.Instance) oracle.Demand {
	return oracle.DemandOf(p, l.placed, l.asked)
}

// has tells whether the reason has facts of a kind; without a reason all count.
func (l *looking) has(kind FactKind) bool {
	return len(l.r.Facts) == 0 || slices.ContainsFunc(l.r.Facts, func(f Fact) bool { return f.Kind == kind })
}

// beside gives the same search with an oracle of its own.
func (l *looking) beside() *looking {
	own, q := *l, *l.Inquiry
	q.judge.Runs, q.judge.Work, q.judge.Days = q.o.Tuning().AskRuns, q.o.Share(q.o.Tuning().OfferWork), nil
	own.Inquiry = &q
	return &own
}

// close gives the parts whose days meet those of the parts asked about, or of
// parts whose work is a reason.
func (l *looking) close() map[string]bool {
	out := map[string]bool{}
	for i := range l.p.Parts {
		q := &l.p.Parts[i]
		if !l.parts[q.Work.Name] && !slices.ContainsFunc(l.r.Facts, func(f Fact) bool { return f.Kind == WorkFact && f.Part == q.Work.Name }) {
			continue
		}
		for _, k := range q.Meets {
			out[l.p.Parts[k].Work.Name] = true
		}
	}
	return out
}

// try judges a change. Where days are not too crowded the parts near those asked
// about are placed anew, the others staying where they stand; only a small
// season is judged as a whole.
func (l *looking) try(ctx context.Context, c change) (oracle.Verdict, *trial, error) {
	if l.judge.Over() {
		return oracle.Unknown, nil, nil
	}
	p := instance.New(c.season, l.o.History, l.o.Standing)
	l.judge.SpendBuild(p)
	t := &trial{change: c, p: p}
	t.cut, t.back = oracle.Restrict(p, c.bid(p), func(int) bool { return true })
	l.judge.Asked++
	if l.judge.SpendDemand(t.cut); oracle.Overloaded(t.cut, true) {
		return oracle.Infeasible, nil, nil
	}
	rest, inner, back := oracle.Around(t.cut, func(i int) bool { return l.meets[t.cut.Parts[i].Work.Name] })
	st, tries, ok := oracle.EarliestDueNear(inner, uint64(l.o.Seed))
	if l.judge.SpendTurns(inner, tries); ok {
		oracle.Join(rest, st, back)
		t.state = rest
		return oracle.Feasible, t, nil
	}
	if t.cut.VisitDays() > t.cut.Params.JudgeSize {
		return oracle.Unknown, t, nil
	}
	v, st, err := l.judge.Judge(ctx, t.cut, true)
	t.state = st
	return v, t, err
}

// change is a season as it would be, what has to be placed in it, and what of
// the plan it gives up.
type change struct {
	season *model.Season
	bid    func(p *instance.Instance) oracle.Demand
}

// trial is a change that was judged.
type trial struct {
	change
	p     *instance.Instance // of the whole season
	cut   *instance.Instance
	back  oracle.Origin
	state *instance.Solution // of cut
}

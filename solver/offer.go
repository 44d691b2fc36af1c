package solver

import (
	"context"
	"slices"

	"primaprova/model"
)

// Offers. Where something is left out, a change of the season may let it be
// placed beside all that is placed already. Each kind of change is looked for
// in its smallest form: the fewest days by which a part would have to come
// earlier, the fewest days with more minutes, and so on. No offer is made that
// was not solved: it carries the season as it would be and a plan of it that
// passed the audit, in which everything asked about is placed and nothing that
// was placed is left out, but for what the offer itself gives up.
//
// Smallest means proven: the next smaller change was shown not to do (judge).
// Where the limits ended that proof the offer says so and stands all the same.

// OfferKind says what would change.
type OfferKind string

// The kinds of offer, in the order in which they are made: first what asks
// most of others and least of the body.
const (
	EarlierOffer  OfferKind = "earlier"  // a part arrives Days earlier
	LeaveOffer    OfferKind = "leave"    // Passages are left out whole
	EstimateOffer OfferKind = "estimate" // an estimate of Minutes takes the place of the part's passages
	DailyOffer    OfferKind = "daily"    // Passages may be visited day after day
	MinutesOffer  OfferKind = "minutes"  // Minutes more on Dates
	RestOffer     OfferKind = "rest"     // playing on the rest day of Dates
)

// An Offer is one change that would let what was left out be placed.
type Offer struct {
	Kind     OfferKind
	Part     string          // programme/part; of minutes and rest days none
	Days     int             // see the kinds
	Minutes  model.Minutes   // see the kinds
	Dates    []model.Date    // see the kinds
	Caps     []model.Minutes // of minutes: the cap that each date would have
	Passages []string        // programme/part/passage
	Arrives  model.Date      // of earlier: the date it would arrive
	Smallest bool            // nothing smaller of its kind does; otherwise that could not be told

	Season        *model.Season // as it would be
	Plan          *model.Plan   // a plan of it, audited
	Before, After model.Measures
	GivenUp       int // worth of the sessions that the season then no longer asks for, less that of new ones
}

// change is a season as it would be, what has to be placed in it, and what of
// the plan it gives up.
type change struct {
	season *model.Season
	bid    func(p *problem) bid
}

// trial is a change that was judged.
type trial struct {
	change
	p     *problem // of the whole season
	cut   *problem
	back  origin
	state *state // of cut
}

// try judges a change.
func (q *Inquiry) try(ctx context.Context, c change) (verdict, *trial, error) {
	p := build(c.season, q.o.History, q.o.Standing)
	t := &trial{change: c, p: p}
	t.cut, t.back = p.cut(c.bid(p), func(int) bool { return true })
	if v, told := q.alone(t.cut); told {
		return v, nil, nil
	}
	v, st, err := q.judge.judge(ctx, t.cut, true)
	t.state = st
	return v, t, err
}

// alone looks for what settles a change without a plan.
func (q *Inquiry) alone(p *problem) (verdict, bool) {
	q.judge.asked++
	if p.tooCrowded(true) {
		return fitsNot, true
	}
	return untold, false
}

// offer makes an offer of a trial that fits: what the plan left out besides is
// placed where it still goes, and the wishes are worked at a little.
func (q *Inquiry) offer(ctx context.Context, o Offer, t *trial) (*Offer, error) {
	// The plan that was found first need not be near the one that stands.
	near, _ := t.p.cut(t.bid(t.p), func(int) bool { return true })
	q.judge.days = nil
	if st := q.judge.lucky(ctx, near); st != nil {
		t.state = st
	}
	t.p.promise(t.bid(t.p))
	st := newState(t.p)
	for i, of := range t.back.parts {
		st.setFrame(of, t.state.frames[i])
	}
	for i, of := range t.back.passages {
		st.place(of, t.state.sched[i])
	}
	q.polish(ctx, st)
	options := q.o
	plan, err := finish(st, options, score{}, model.CutShort, 0)
	if err != nil {
		return nil, err
	}
	o.Season, o.Plan = t.season, plan
	o.Before = q.p.season.Measure(q.o.Standing, q.o.History, q.o.Standing)
	o.After = t.season.Measure(plan, q.o.History, q.o.Standing)
	o.GivenUp = worthOf(q.p.season, q.o.History) - worthOf(t.season, q.o.History)
	return &o, nil
}

// worthOf gives the worth of all sessions that a season asks for.
func worthOf(s *model.Season, h *model.History) (sum int) {
	for _, w := range s.Wanted(h) {
		sum += w.Value
	}
	return sum
}

// promised is added to the worth of what an offer promises, so that nothing is
// worth leaving it out for.
const promised = 1_000_000

// promise raises the worth of a bid.
func (p *problem) promise(c bid) {
	for i := range p.parts {
		q := &p.parts[i]
		for n, v := range [3]*int{&q.listenV, &q.readV, &q.recV} {
			if c.stages[i][n] {
				*v += promised
			}
		}
	}
	for i := range p.passages {
		for k := range c.visits[i] {
			p.passages[i].visits[k].value += promised
		}
	}
}

// polishMoves is how many moves each wish gets for a passage that does not lie
// where it stood.
const polishMoves = 60

// polish betters a plan a little, wish by wish.
func (q *Inquiry) polish(ctx context.Context, st *state) {
	for _, goal := range model.Wishes {
		if st.score()[goal] == 0 || ctx.Err() != nil {
			continue
		}
		im := newImprover(st, uint64(q.o.Seed))
		im.free = st.p.unplanned(st)
		im.run(ctx, goal, polishMoves*min(len(im.free), 50))
	}
}

// Offers looks for all kinds of offer for what a reason is about. most gives
// the most minutes of playing, services and warm-up included, that the player
// would ever do in a day; 0: no more than the caps. What was found before the
// context ended comes back.
func (q *Inquiry) Offers(ctx context.Context, r *Reason, most model.Minutes) (out []Offer, err error) {
	l := q.looking(r, most)
	for _, look := range []func(context.Context) ([]Offer, error){l.earlier, l.leave, l.estimate, l.daily, l.minutes, l.rest} {
		if ctx.Err() != nil {
			return out, nil
		}
		found, err := look(ctx)
		if err != nil {
			return out, err
		}
		out = append(out, found...)
	}
	return out, nil
}

// looking is a search for offers.
type looking struct {
	*Inquiry
	r     *Reason
	most  model.Minutes
	asked map[string]bool
	parts map[string]bool // asked about
}

func (q *Inquiry) looking(r *Reason, most model.Minutes) *looking {
	l := &looking{Inquiry: q, r: r, most: most, asked: map[string]bool{}, parts: map[string]bool{}}
	for _, id := range r.Asked {
		l.asked[id] = true
	}
	for i := range q.p.parts {
		if q.p.asks(i, l.asked) {
			l.parts[q.p.parts[i].work.Name] = true
		}
	}
	return l
}

// goal is the bid of what is placed and what is asked about.
func (l *looking) goal(p *problem) bid { return p.bidOf(l.placed, l.asked) }

// has tells whether the reason has facts of a kind; without a reason all count.
func (l *looking) has(kind FactKind) bool {
	return len(l.r.Facts) == 0 || slices.ContainsFunc(l.r.Facts, func(f Fact) bool { return f.Kind == kind })
}

// least finds the smallest n of lo..hi for which a change fits, given that more
// of it never fits less. It is proven smallest if n−1 was shown not to fit.
// t is nil where none was found.
func (l *looking) least(ctx context.Context, lo, hi int, make func(n int) change) (n int, t *trial, smallest bool, err error) {
	tried := func(n int) (verdict, *trial, error) { return l.try(ctx, make(n)) }
	v, t, err := tried(hi)
	if err != nil || v != fits {
		return 0, nil, false, err
	}
	n, not := hi, lo-1 // not: the largest that is known not to fit
	for low := lo; low < n; {
		mid := (low + n) / 2
		v, x, err := tried(mid)
		if err != nil {
			return 0, nil, false, err
		}
		switch v {
		case fits:
			n, t = mid, x
		case fitsNot:
			not = mid
			low = mid + 1
		default:
			low = mid + 1
		}
	}
	return n, t, not == n-1, nil
}

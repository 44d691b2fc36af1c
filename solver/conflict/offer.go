package conflict

import (
	"context"

	"primaprova/model"
	"primaprova/solver/construct"
	"primaprova/solver/instance"
	"primaprova/solver/oracle"
)

// Offers. Where something is left out, a change of the season may let it be
// placed beside all that is placed already. Each kind of change is looked for
// in its smallest form: the fewest days by which a part would have to come
// earlier, the fewest days with more minutes, and so on. No offer is made that
// was not solved: it carries the season as it would be and a plan of it that
// passed the audit. It was found with everything asked about placed, and nothing left out
// that was placed, but for what the offer itself gives up; what the season's own wishes
// make of that is what it says (Out, Gone).
//
// A season of more than a few parts is not placed anew for each trial: the parts
// near those asked about are (oracle.Around), earliest due first and as near to their
// standing days as that goes (oracle.EarliestDueNear), the others stay where they stand.
//
// Smallest means proven: the next smaller change was shown not to do (oracle).
// Where the limits ended that proof the offer says so and stands all the same.

// OfferKind says what would change.
type OfferKind string

// The kinds of offer, in the order in which they are made: first what asks
// most of others and least of the body. Those that help in part come after those
// that help in whole, a rest day after both.
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
	Promised []string        // ids of the sessions asked about that it lets be placed, as far as its season asks for them
	Left     []string        // ids of those that it does not: there are some where it helps in part
	Places   int             // what the promised ones are worth
	Asked    int             // what all sessions asked about are worth
	Smallest bool            // nothing smaller of its kind does; otherwise that could not be told

	// What comes of it once the season is planned by its wishes: other work may have room
	// then that counts more.
	Out  []string // ids of the sessions asked about that its season asks for and Plan leaves out
	Gone []string // ids of those that are placed now, and that Plan leaves out

	Season        *model.Season // as it would be
	Plan          *model.Plan   // a plan of it, audited
	Before, After model.Measures
	GivenUp       int // worth of the sessions that the season then no longer asks for, less that of new ones
}

// offer makes an offer of a trial that fits: what the plan left out besides is
// placed where it still goes, and the wishes are worked at a little, first with what is
// promised worth more than all else, then as the season has it. Nil where that leaves
// nothing of what is asked about.
func (l *looking) offer(ctx context.Context, o Offer, t *trial) (*Offer, error) {
	q := l.Inquiry
	raiseWorth(t.p, t.bid(t.p))
	st := instance.NewSolution(t.p)
	oracle.Join(st, t.state, t.back)
	q.polish(ctx, st)
	st = restated(st, instance.New(t.season, q.o.History, q.o.Standing))
	im := construct.NewAnnealer(st, uint64(q.o.Seed))
	im.Free = st.P.Unplanned(st)
	im.Run(ctx, model.Coverage, q.o.Tuning().SettleMoves)
	q.polish(ctx, st)
	options := q.o
	plan, err := instance.Finish(st, options, nil, model.CutShort, 0)
	if err != nil {
		return nil, err
	}
	o.Season, o.Plan = t.season, plan
	o.Before = q.p.Season.Measure(q.o.Standing, q.o.History, q.o.Standing)
	o.After = t.season.Measure(plan, q.o.History, q.o.Standing)
	o.GivenUp = worthOf(q.p.Season, q.o.History) - worthOf(t.season, q.o.History)
	if got := o.settle(l); got == 0 && len(o.Out) > 0 {
		return nil, nil
	}
	return &o, nil
}

// settle notes what an offer's plan leaves out, and counts what of the sessions asked
// about it places.
func (o *Offer) settle(l *looking) (got int) {
	in := map[string]bool{}
	for i := range o.Plan.Sessions {
		in[o.Plan.Sessions[i].ID] = true
	}
	for _, w := range o.Season.Wanted(l.o.History) {
		switch {
		case in[w.ID] && l.all[w.ID]:
			got++
		case in[w.ID]:
		case l.all[w.ID]:
			o.Out = append(o.Out, w.ID)
		case l.placed[w.ID]:
			o.Gone = append(o.Gone, w.ID)
		}
	}
	return got
}

// restated gives the same plan in another form of the same season, whose sessions are worth
// something else.
func restated(s *instance.Solution, p *instance.Instance) *instance.Solution {
	out := instance.NewSolution(p)
	for i, f := range s.Frames {
		out.SetFrame(i, f)
	}
	for k, days := range s.Sched {
		if len(days) > 0 {
			out.Place(k, days)
		}
	}
	return out
}

// one is a list of an offer, empty where there is none.
func one(o *Offer) []Offer {
	if o == nil {
		return nil
	}
	return []Offer{*o}
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

// raiseWorth raises the worth of a demand.
func raiseWorth(p *instance.Instance, c oracle.Demand) {
	for i := range p.Parts {
		q := &p.Parts[i]
		for n, v := range [3]*int{&q.ListenWorth, &q.ReadWorth, &q.RecWorth} {
			if c.Stages[i][n] {
				*v += promised
			}
		}
	}
	for i := range p.Passages {
		for k := range c.Visits[i] {
			p.Passages[i].Visits[k].Value += promised
		}
	}
}

// polish betters a plan a little, wish by wish.
func (q *Inquiry) polish(ctx context.Context, st *instance.Solution) {
	for _, goal := range model.Wishes {
		if st.Score()[goal] == 0 || ctx.Err() != nil {
			continue
		}
		im := construct.NewAnnealer(st, uint64(q.o.Seed))
		im.Free = st.P.Unplanned(st)
		im.Run(ctx, goal, q.o.Tuning().PolishMoves*min(len(im.Free), 50))
	}
}

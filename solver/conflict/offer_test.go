package conflict

import (
	"context"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"primaprova/model"
	"primaprova/solver/instance"
	"primaprova/solver/oracle"
	"primaprova/solver/tiny"
)

// offersOf gives the offers for the part of which most is left out.
func offersOf(t testing.TB, c *tiny.Case, plan *model.Plan, most model.Minutes) (asked []string, q *Inquiry, out []Offer) {
	parts, ids := tiny.LeftOf(plan)
	if len(parts) == 0 {
		return nil, nil, nil
	}
	q = asking(t, c, plan)
	r, err := q.Why(context.Background(), ids[parts[0]])
	if err != nil {
		t.Fatal(err)
	}
	if out, err = q.Offers(context.Background(), r, most); err != nil {
		t.Fatal(err)
	}
	return ids[parts[0]], q, out
}

// TestOffersKeepWhatTheyPromise: applied to the season each offer has a plan
// that passes the audit, places what it promises of what was asked about, and leaves nothing out
// that was placed, but for what the offer gives up or says; its figures are those that
// the model measures.
func TestOffersKeepWhatTheyPromise(t *testing.T) {
	seen, inPart := map[OfferKind]int{}, 0
	rapid.Check(t, func(rt *rapid.T) {
		seed := rapid.IntRange(0, 1<<20).Draw(rt, "seed")
		c, plan := shortSeason(t, seed, tiny.Size{Days: 10, Passages: 3, Visits: 3})
		most := c.Season.Limits.Playing.Every + 15
		asked, q, offers := offersOf(t, c, plan, most)
		for _, o := range offers {
			seen[o.Kind]++
			if b := o.Season.Audit(o.Plan, c.History); len(b) > 0 {
				rt.Errorf("%s: %v", o.Kind, b)
			}
			if o.Places > o.Asked || len(o.Promised)+len(o.Left) != len(asked) || len(o.Left) == 0 && o.Places < o.Asked {
				rt.Errorf("%s: %d of %d points, %d of %d sessions", o.Kind, o.Places, o.Asked, len(o.Promised), len(asked))
			}
			if len(o.Left) > 0 {
				inPart++
			}
			keepsPromise(rt, q, &o, c.History)
			if got := o.Season.Measure(o.Plan, c.History, plan); got != o.After {
				rt.Errorf("%s: measured %v, said %v", o.Kind, got, o.After)
			}
			if o.Kind == MinutesOffer {
				for d := c.Season.From; d <= c.Season.To; d++ {
					if was, is := c.Season.Limits.Playing.On(d), o.Season.Limits.Playing.On(d); is > max(was, most) {
						rt.Errorf("the cap of %v goes to %v, beyond the most", d, is)
					}
				}
			}
		}
	})
	if len(seen) < 3 || inPart == 0 {
		t.Errorf("%v, %d in part: too few offers were made to tell", seen, inPart)
	}
}

// TestSmallestOffers: by exhaustive trial no smaller change of its kind lets
// everything be placed.
func TestSmallestOffers(t *testing.T) {
	seen, inPart := map[OfferKind]int{}, 0
	for seed := range 150 {
		c, plan := shortSeason(t, 9000+seed, tiny.Size{Days: 9, Passages: 3, Visits: 3})
		most := c.Season.Limits.Playing.Every + 15
		asked, q, offers := offersOf(t, c, plan, most)
		if q == nil {
			continue
		}
		does := func(l *looking, s *model.Season) bool {
			p := instance.New(s, c.History, nil)
			cut, _ := oracle.Restrict(p, l.goal(p), func(int) bool { return true })
			b := tiny.NewBrute(cut)
			b.Try(0)
			return b.Best[model.Coverage] == 0
		}
		whole := q.looking(&Reason{Asked: asked}, most)
		for _, o := range offers {
			if !o.Smallest {
				t.Errorf("season %d: %s is not proven smallest", seed, o.Kind)
			}
			seen[o.Kind]++
			l := q.looking(&Reason{Asked: o.Promised}, most)
			if len(o.Left) > 0 {
				inPart++
				if does(l, c.Season) {
					t.Errorf("season %d: %s: what is promised needs no change", seed, o.Kind)
				}
				if does(whole, o.Season) {
					t.Errorf("season %d: %s helps in whole", seed, o.Kind)
				}
			}
			switch o.Kind {
			case EarlierOffer:
				for n := range o.Days {
					if does(l, l.arriving(o.Part, n).season) {
						t.Errorf("season %d: %d days earlier would do, %d are offered", seed, n, o.Days)
					}
				}
			case MinutesOffer:
				for d := c.Season.From; len(o.Dates) > 1 && d <= c.Season.To; d++ {
					if !c.Season.Limits.RestOn(d) && does(l, l.raised([]model.Date{d}, most).season) {
						t.Errorf("season %d: raising %v alone would do, %v are offered", seed, d, o.Dates)
					}
				}
				if n := o.Minutes - c.Season.Habits.Step; n > 0 {
					s := l.raisedTo(o.Dates, func(d model.Date) model.Minutes { return min(most, c.Season.Limits.Playing.On(d)+n) }).season
					if does(l, s) {
						t.Errorf("season %d: %v more would do, %v are offered", seed, n, o.Minutes)
					}
				}
			case LeaveOffer:
				worth := func(names []string) (sum int) {
					for _, v := range l.candidates() {
						for _, n := range names {
							if v.name == n {
								sum += v.worth
							}
						}
					}
					return sum
				}
				all := l.candidates()
				for set := range 1 << len(all) {
					var names []string
					for i := range all {
						if set>>i&1 == 1 {
							names = append(names, all[i].name)
						}
					}
					if worth(names) < worth(o.Passages) && spares(l, names) && does(l, l.without(names).season) {
						t.Errorf("season %d: leaving out %v would do, %v are offered", seed, names, o.Passages)
					}
				}
			}
		}
	}
	t.Log(seen, "in part:", inPart)
	if inPart < 5 {
		t.Errorf("%d offers in part", inPart)
	}
	for k, least := range map[OfferKind]int{EarlierOffer: 10, LeaveOffer: 10, MinutesOffer: 10, EstimateOffer: 3, DailyOffer: 3, RestOffer: 3} {
		if seen[k] < least {
			t.Errorf("%d offers of the kind %s", seen[k], k)
		}
	}
}

// spares tells whether something of each part stays when passages are left out.
func spares(l *looking, names []string) bool {
	for i := range l.p.Parts {
		q := &l.p.Parts[i]
		stays := q.First == q.Last
		for k := q.First; k < q.Last; k++ {
			stays = stays || !slices.Contains(names, l.p.Passages[k].Work.Name)
		}
		if !stays {
			return false
		}
	}
	return true
}

// keepsPromise checks that an offer's plan places what was promised, and leaves
// nothing out that was placed, unless its season no longer asks for it.
func keepsPromise(t interface{ Errorf(string, ...any) }, q *Inquiry, o *Offer, h *model.History) {
	wanted, placed := map[string]bool{}, map[string]bool{}
	for _, w := range o.Season.Wanted(h) {
		wanted[w.ID] = true
	}
	for i := range o.Plan.Sessions {
		placed[o.Plan.Sessions[i].ID] = true
	}
	for _, id := range o.Promised {
		if wanted[id] && !placed[id] && !slices.Contains(o.Out, id) {
			t.Errorf("%s: %s was promised, is not placed, and that is not said", o.Kind, id)
		}
	}
	for _, id := range slices.Concat(o.Out, o.Gone) {
		if placed[id] || !wanted[id] {
			t.Errorf("%s: %s is said to be left out, and is placed or not asked for", o.Kind, id)
		}
	}
	for id := range q.placed {
		if wanted[id] && !placed[id] && !slices.Contains(o.Gone, id) {
			t.Errorf("%s: %s was placed, is left out, and that is not said", o.Kind, id)
		}
	}
}

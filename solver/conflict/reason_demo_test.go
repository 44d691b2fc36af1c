package conflict

import (
	"context"
	"testing"

	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver"
	"primaprova/solver/run"
	"primaprova/solver/tiny"
)

// impossibleWeeks is a season as large as the demo's of which the weeks before
// two first rehearsals were made impossible.
func impossibleWeeks() (*model.Season, []model.Range) {
	s := invent.Season(invent.Demo(1))
	var weeks []model.Range
	for _, n := range []int{3, 7} {
		d := s.Programmes[n].FirstRehearsal().Monday() - 7
		r := model.Range{From: d - 14, To: d + 6}
		s.Limits.Playing.Dates = append(s.Limits.Playing.Dates, model.Dated[model.Minutes]{Range: r, Value: s.Limits.Playing.Every / 3})
		weeks = append(weeks, r)
	}
	return s, weeks
}

// TestImpossibleWeeks: on a whole season the stretches that are short meet the
// weeks that were made impossible, and the reason why the part that suffers
// most can't be whole names caps of those weeks, and every line of it is shown to
// be needed.
func TestImpossibleWeeks(t *testing.T) {
	s, weeks := impossibleWeeks()
	meets := func(r model.Range) bool {
		for _, w := range weeks {
			if r.From <= w.To && w.From <= r.To {
				return true
			}
		}
		return false
	}
	short := 0
	for _, x := range s.Stretches(nil) {
		if x.Short() > 0 {
			short++
			if !meets(x.Days) {
				t.Errorf("%v is short, where nothing was made impossible", x.Days)
			}
		}
	}
	if short < 2 {
		t.Errorf("%d stretches are short", short)
	}
	plan, err := solver.Greedy(s, run.Options{})
	if err != nil {
		t.Fatal(err)
	}
	q, err := Inquire(s, run.Options{Engine: tiny.HiGHS(t), Standing: plan})
	if err != nil {
		t.Fatal(err)
	}
	_, ids := tiny.LeftOf(plan)
	part, most := "", 0
	for _, p := range s.Programmes[3].Parts {
		if name := "p4/" + p.ID; len(ids[name]) > most {
			part, most = name, len(ids[name])
		}
	}
	r, err := q.Why(context.Background(), ids[part])
	if err != nil {
		t.Fatal(err)
	}
	if r.Outcome != Forced || r.Stretch.Short() <= 0 || !meets(r.Stretch.Days) {
		t.Fatalf("%s: %s, %+v", part, r.Outcome, r.Stretch)
	}
	if r.Untried > 0 {
		t.Errorf("of %d facts it was not found out whether they can be spared", r.Untried)
	}
	for i := range r.Facts {
		if r.Facts[i].Bundle > 0 {
			t.Errorf("%s %v was only tried together with others", r.Facts[i].Kind, r.Facts[i].Paths)
		}
	}
	caps := 0
	for _, f := range r.Facts {
		if f.Kind == CapFact && meets(f.Days) {
			caps++
		}
	}
	if caps == 0 {
		t.Errorf("%s: no cap of the weeks that were made impossible is among the reasons", part)
	}
	t.Logf("%s: %d sessions, %d facts, %d untried, %d bids, %d engine runs", part, most, len(r.Facts), r.Untried, r.Bids, r.Runs)
}

// TestOffersOnAWholeSeason: on the same season offers of several kinds are found
// without a clock; each plan passes the audit and places what was promised, and
// leaves nothing out that was placed unless the season no longer asks for it. A
// minute is worth most in the weeks that were made impossible, or beside them.
func TestOffersOnAWholeSeason(t *testing.T) {
	s, weeks := impossibleWeeks()
	plan, err := solver.Greedy(s, run.Options{})
	if err != nil {
		t.Fatal(err)
	}
	q, err := Inquire(s, run.Options{Engine: tiny.HiGHS(t), Standing: plan})
	if err != nil {
		t.Fatal(err)
	}
	_, ids := tiny.LeftOf(plan)
	var r *Reason
	for _, p := range s.Programmes[3].Parts {
		if asked := ids["p4/"+p.ID]; len(asked) > 0 && (r == nil || len(asked) > len(r.Asked)) {
			if r, err = q.Why(t.Context(), asked); err != nil {
				t.Fatal(err)
			}
		}
	}
	offers, err := q.Offers(t.Context(), r, s.Limits.Playing.Every+20)
	if err != nil {
		t.Fatal(err)
	}
	kinds := map[OfferKind]int{}
	for i := range offers {
		o := &offers[i]
		kinds[o.Kind]++
		if b := o.Season.Audit(o.Plan, nil); len(b) > 0 {
			t.Errorf("%s: %v", o.Kind, b[0])
		}
		keepsPromise(t, q, o, nil)
	}
	if len(kinds) < 3 {
		t.Errorf("only offers of the kinds %v", kinds)
	}
	price := q.looking(r, 0).priced(t.Context())
	dearest := 0
	for d := range price {
		if price[d] > price[dearest] {
			dearest = d
		}
	}
	day, w := s.From+model.Date(dearest), weeks[0]
	if price[dearest] == 0 || day < w.From-14 || day > w.To+14 {
		t.Errorf("a minute is worth most on %v, %.2f points; made impossible was %v to %v", day, price[dearest], w.From, w.To)
	}
	t.Logf("%v; dearest %v", kinds, day)
}

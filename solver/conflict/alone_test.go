package conflict

import (
	"context"
	"reflect"
	"runtime"
	"slices"
	"testing"

	"primaprova/solver"
	"primaprova/solver/compact"
	"primaprova/solver/cpsat"
	"primaprova/solver/oracle"
	"primaprova/solver/run"
	"primaprova/solver/tiny"
)

// TestChangedAlone: whether a fact helps when changed alone is what CP-SAT finds with all
// other facts of the season standing; and no fact of a reason is one that can change
// nothing for the parts it is about.
func TestChangedAlone(t *testing.T) {
	library := tiny.CPSAT(t)
	answers := map[Answer]int{}
	for seed := range 200 {
		c, plan := shortSeason(t, seed, tiny.Size{Days: 10, Passages: 3, Visits: 3})
		parts, ids := tiny.LeftOf(plan)
		if len(parts) == 0 {
			continue
		}
		q := asking(t, c, plan)
		r, err := q.Why(context.Background(), ids[parts[seed%len(parts)]])
		if err != nil {
			t.Fatal(err)
		}
		scope := map[int]bool{}
		for i := range r.Facts {
			if r.Facts[i].Kind == WorkFact {
				scope[r.Facts[i].part] = true
			}
		}
		for i := range r.Facts {
			f := &r.Facts[i]
			if f.Bundle == 0 {
				answers[f.Alone]++
				if f.Alone != Unknown && (f.Alone == Yes) != placeableBut(t, library, q, r, f) {
					t.Errorf("season %d: %v %v alone: %s, by CP-SAT the other way", seed, f.Kind, f.Paths, f.Alone)
				}
			}
			if !matters(q, f, scope) {
				t.Errorf("season %d: %v %v changes nothing", seed, f.Kind, f.Paths)
			}
		}
	}
	t.Log(answers)
	if answers[Yes] < 100 || answers[No] < 100 || answers[Unknown] > 5 {
		t.Errorf("answers: %v", answers)
	}
}

// matters tells whether a fact can change anything for some parts: a limit that limits,
// and days among theirs.
func matters(q *Inquiry, f *Fact, scope map[int]bool) bool {
	l := &q.p.Season.Limits
	switch f.Kind {
	case BeforeFact:
		return l.BeforeConcert < 100
	case ReturnFact:
		return l.Return.After > 0 && len(l.DaysOff)+len(l.Tours) > 0 || len(backs(l, false)) > 0 || q.o.History != nil
	case NewFact:
		return !l.NewOnConcerts
	case WarmUpFact:
		return l.WarmUp+l.WarmUpAgain > 0
	case OffFact, ToursFact, CapFact:
		if f.Kind != CapFact && l.Return.After > 0 {
			return true // the cap comes back slowly on the days after
		}
		for i := range scope {
			from := int(f.Days.From - q.p.Season.From)
			if to := int(f.Days.To - q.p.Season.From); from <= q.p.Parts[i].Hi && q.p.Parts[i].Lo <= to {
				return true
			}
		}
		return false
	}
	return true
}

// placeableBut tells by CP-SAT whether what is asked about can be placed beside what is
// placed where one fact alone is dropped.
func placeableBut(t *testing.T, l *cpsat.Library, q *Inquiry, r *Reason, but *Fact) bool {
	t.Helper()
	ids := map[string]bool{}
	for _, id := range r.Asked {
		ids[id] = true
	}
	keep, dropped := func(int) bool { return true }, []Fact{*but}
	if but.Kind == WorkFact {
		keep, dropped = func(i int) bool { return i != but.part }, nil
	}
	p, _ := oracle.Restrict(relax(q.p, q.o.History, dropped), oracle.DemandOf(q.p, q.placed, ids), keep)
	w := compact.WriteDemand(p, but.Kind != OrderFact)
	return w != nil && tiny.Solvable(t, l, w.M)
}

// TestWhyCountsWork: where the work does not suffice to tell everything, the same is
// told each time, on one core too.
func TestWhyCountsWork(t *testing.T) {
	s, _ := impossibleWeeks()
	plan, err := solver.Greedy(s, run.Options{})
	if err != nil {
		t.Fatal(err)
	}
	parts, ids := tiny.LeftOf(plan)
	asked := ids[slices.MaxFunc(parts, func(a, b string) int { return len(ids[a]) - len(ids[b]) })]
	ask := func(work float64) (*Reason, []Offer) {
		q, err := Inquire(s, run.Options{Engine: tiny.HiGHS(t), Standing: plan, Work: work})
		if err != nil {
			t.Fatal(err)
		}
		r, err := q.Why(context.Background(), asked)
		if err != nil {
			t.Fatal(err)
		}
		offers, err := q.Offers(context.Background(), r, 300)
		if err != nil {
			t.Fatal(err)
		}
		return r, offers
	}
	r, offers := ask(0.1)
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	again, same := ask(0.1)
	if !reflect.DeepEqual(r, again) || len(offers) != len(same) {
		t.Fatalf("%d facts, %d offers; then %d and %d", len(r.Facts), len(offers), len(again.Facts), len(same))
	}
	for i := range offers {
		if a, b := offers[i], same[i]; a.Kind != b.Kind || a.After != b.After || !slices.Equal(a.Promised, b.Promised) {
			t.Errorf("offer %d: %s %v, then %s %v", i, a.Kind, a.After, b.Kind, b.After)
		}
	}
	unknown := 0
	for i := range r.Facts {
		if r.Facts[i].Alone == Unknown {
			unknown++
		}
	}
	if r.Untried+unknown == 0 {
		t.Errorf("all is told of %d facts: give it less work", len(r.Facts))
	}
}

package lns

import (
	"context"
	"slices"
	"testing"

	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver/construct"
	"primaprova/solver/instance"
	"primaprova/solver/run"
	"primaprova/solver/tiny"
)

// Over a standing plan the spread plan that promises most is made whole first, others only where
// they promise much more than there is by then, and never more than may be.
func TestWhatPromisesMostIsMadeWhole(t *testing.T) {
	p := instance.New(invent.Season(invent.Grown(10, 0, true, 3)), nil, nil)
	nb := &Search{P: p, O: &run.Options{Engine: tiny.HiGHS(t), Work: 0.1}, Met: func(model.Wish, instance.Score) bool { return false }}
	st := construct.Greedy(p)
	for i := range p.Parts[0].Last {
		st.Lift(i) // so that there is much to win
	}
	aim := instance.WeightedSum(instance.Trade)
	spread := func(value float64) *filling {
		return &filling{NewFractional(nb.O, construct.Greedy(p)), aim, []int{0}, value}
	}
	now := aim.Whole(st.Score())
	for _, c := range []struct {
		what   string
		values []float64
		most   int
		first  bool
		tried  int
	}{
		{"nothing promises anything", []float64{now, now + 1}, 4, true, 0},
		{"the first of all may promise little", []float64{0.99 * now}, 4, true, 1},
		{"others may not", []float64{0.99 * now}, 4, false, 0},
		{"what is won is not promised any more", []float64{0.3 * now, 0.9 * now}, 4, true, 1},
		{"both promise much", []float64{0, 1}, 4, true, 2},
		{"those that came to the same are one", []float64{5, 5}, 4, true, 1},
		{"no more than may be", []float64{0, 1}, 1, true, 1},
		{"none may be", []float64{0, 1}, 0, true, 0},
	} {
		var walks []*filling
		for _, v := range c.values {
			walks = append(walks, spread(v))
		}
		slices.Reverse(walks) // the least is not the first
		to := st.Clone()
		tried, err := nb.mostPromising(context.Background(), to, model.Coverage, walks, c.most, 0.15, c.first)
		if err != nil || tried != c.tried {
			t.Errorf("%s: %d were made whole, where %d should be (%v)", c.what, tried, c.tried, err)
		}
		if better := to.Score()[model.Coverage] < st.Score()[model.Coverage]; better != (tried > 0) {
			t.Errorf("%s: coverage %d of %d", c.what, to.Score()[model.Coverage], st.Score()[model.Coverage])
		}
	}
}

// A later round over a standing plan goes where the first has not been: around the part due last of those
// that meet the one that lacks something; and begins from frames kicked about where one has.
func TestPartsToFillOverAStandingPlan(t *testing.T) {
	z := invent.Grown(24, 0, false, 3)
	z.Passages, z.Tightness = 4, 0.3
	p := instance.New(invent.Season(z), nil, nil)
	nb := &Search{P: p, O: &run.Options{Standing: &model.Plan{}}}
	st := construct.Greedy(p)
	for k := range p.Passages {
		if lackOf(st, p.Passages[k].Part, model.Coverage) > 0 {
			t.Fatal("something is left out without being taken out")
		}
	}
	lacking := p.ByDeadline()[1]
	st.Lift(p.Parts[lacking].First)
	latest := nb.latest(lacking)
	for _, i := range p.Parts[lacking].Meets {
		if p.Parts[i].Hi > p.Parts[latest].Hi {
			t.Errorf("part %d meets it and is due after part %d", i, latest)
		}
	}
	times := make([]int, len(p.Parts))
	for round, want := range [][]fillStart{{{lacking, 0}, {lacking, 1}}, {{lacking, 2}, {latest, 0}}, {{lacking, 3}, {latest, 1}}} {
		if got := nb.toFill(st, model.Coverage, round, times, round > 0); !slices.Equal(got, want) {
			t.Errorf("round %d: %v, not %v", round, got, want)
		}
	}
}

// What all of a spread plan costs is what a plan costs that is whole.
func TestSpreadPlanCostsWhatItIs(t *testing.T) {
	p := instance.New(invent.Season(invent.Grown(10, 0, true, 3)), nil, nil)
	st := construct.Greedy(p)
	for k := range p.Passages[:len(p.Passages)/3] {
		st.Lift(k)
	}
	aim := instance.WeightedSum(instance.Trade)
	sum := NewFractional(&run.Options{}, st).costBeside(&aim, nil)
	for i := range p.Parts {
		sum += aim.Cost(p.StagesScore(&p.Parts[i], st.Frames[i]))
	}
	if whole := aim.Cost(st.Score()); sum != whole {
		t.Errorf("its passages and stages cost %g, all of it %g", sum, whole)
	}
	f := &filling{Fractional: NewFractional(&run.Options{}, st)}
	if lacks, want := f.lacks(model.Coverage), st.Score()[model.Coverage]; want == 0 || lacks != float64(want) {
		t.Errorf("it lacks %g, a whole plan %d", lacks, want)
	}
}

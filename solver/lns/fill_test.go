package lns

import (
	"slices"
	"testing"

	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver/construct"
	"primaprova/solver/instance"
	"primaprova/solver/run"
)

// Of the spread plans over a standing plan those are made whole that promise most.
func TestWhatPromisesMostIsMadeWhole(t *testing.T) {
	p := instance.New(invent.Season(invent.Grown(10, 0, true, 3)), nil, nil)
	nb := &Search{P: p, O: &run.Options{}}
	aim := instance.WeightedSum(instance.Trade)
	st := construct.Greedy(p).Score()
	now := aim.Whole(st)
	for _, c := range []struct {
		what   string
		values []float64
		most   int
		hope   float64
		whole  []float64
	}{
		{"nothing promises anything", []float64{now, now + 1}, 2, 0, nil},
		{"the first round may promise little", []float64{0.99 * now}, 2, 0, []float64{0.99 * now}},
		{"others may not", []float64{0.99 * now}, 2, 0.07, nil},
		{"what promises less than a tenth less than the best", []float64{0.54 * now, 0.8 * now, 0.5 * now}, 3, 0, []float64{0.5 * now, 0.54 * now}},
		{"those that came to the same are one", []float64{0.5 * now, 0.5 * now}, 2, 0, []float64{0.5 * now}},
		{"no more than may be", []float64{0.52 * now, 0.5 * now}, 1, 0, []float64{0.5 * now}},
		{"none may be", []float64{0.5 * now}, 0, 0, nil},
		{"there are none", nil, 2, 0, nil},
	} {
		var walks []*filling
		for _, v := range c.values {
			walks = append(walks, &filling{aim: aim, value: v})
		}
		var got []float64
		for _, f := range nb.mostPromising(walks, st, c.most, c.hope) {
			got = append(got, f.value)
		}
		if !slices.Equal(got, c.whole) {
			t.Errorf("%s: %v, not %v", c.what, got, c.whole)
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

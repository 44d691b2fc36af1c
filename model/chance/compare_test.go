package chance

import (
	"fmt"
	"math"
	"reflect"
	"runtime"
	"testing"

	"primaprova/model"
)

// What a change brings against closed forms: one visit a day for five days, a day to
// spare, each day lost with chance 0.1.
func TestLacking(t *testing.T) {
	g := newStage(6, 10)
	for d := range 5 {
		g.passage(fmt.Sprint(d), 2, 10, d)
	}
	guess := exactly()
	guess.Lost = 0.1
	// By trying all 64: what waits is done as soon as a day that is kept has room for it.
	ready := func(room func(day int) int) (share, short float64) {
		for lost := range 64 {
			waiting, chance := 0, 1.0
			for d := range 6 {
				if d < 5 {
					waiting++
				}
				if lost>>d&1 == 1 {
					chance *= 0.1
					continue
				}
				chance *= 0.9
				waiting -= min(room(d), waiting)
			}
			if short += chance * float64(waiting); waiting == 0 {
				share += chance
			}
		}
		return share, short
	}
	more := func(from int) Change {
		c := Change{More: map[model.Date]model.Minutes{}}
		for d := from; d < 6; d++ {
			c.More[g.s.From+model.Date(d)] = 10
		}
		return c
	}
	play := func(c Change) []int {
		return Lacking(g.s, g.h, g.p, "p/w", Options{Runs: manyRuns, Guess: guess, Change: c})
	}
	now := play(Change{})
	for _, c := range []struct {
		name   string
		change Change
		room   func(int) int
	}{
		{"as it is", Change{}, func(int) int { return 1 }},
		{"longer on the last day", more(5), func(d int) int { return 1 + d/5 }},
		{"longer on the last three", more(3), func(d int) int { return 1 + d/3 }},
	} {
		share, short := ready(c.room)
		with := play(c.change)
		got := Compare(now, with)
		if e := math.Sqrt(share * (1 - share) / manyRuns); math.Abs(ReadyIn(with)-share) > 4*e {
			t.Errorf("%s: ready in %.4f, by the closed form %.4f", c.name, ReadyIn(with), share)
		}
		squares := 0.0
		for _, x := range with {
			squares += float64(x * x)
		}
		if e := math.Sqrt(squares) / manyRuns; math.Abs(Average(with)-short) > 4*e {
			t.Errorf("%s: %.4f lacking on average, by the closed form %.4f", c.name, Average(with), short)
		}
		_, before := ready(func(int) int { return 1 })
		if math.Abs(got.Fewer-(before-short)) > 4*got.Error+1e-9 {
			t.Errorf("%s: %.4f ± %.4f fewer, by the closed form %.4f", c.name, got.Fewer, got.Error, before-short)
		}
		if again := Of(g.s, g.h, g.p, Options{Runs: manyRuns, Guess: guess, Change: c.change})[0]; math.Abs(again.Ready-ReadyIn(with)) > 1e-9 {
			t.Errorf("%s: played through to the end %v, until it is due %v", c.name, again, ReadyIn(with))
		}
	}
	if got := play(Change{NoLost: true}); ReadyIn(got) < 1 || Average(got) != 0 {
		t.Errorf("with no day lost: ready in %v, lacking %v", ReadyIn(got), Average(got))
	}
	if got := Lacking(g.s, g.h, g.p, "p/other", Options{}); got != nil {
		t.Errorf("of a part that there is not: %+v", got)
	}
}

// What others give up leaves room: two visits on the last day, where there is time for
// one of them.
func TestLackingWithout(t *testing.T) {
	g := newStage(3, 20)
	for d := range 3 {
		g.passage(fmt.Sprint("a", d), 2, 10, d)
		g.passage(fmt.Sprint("b", d), 2, 10, d)
	}
	guess := exactly()
	guess.Lost = 0.3
	o := Options{Runs: manyRuns, Guess: guess, Change: Change{Without: map[string]bool{}}}
	now := Lacking(g.s, g.h, g.p, "p/w", o)
	for d := range 3 {
		o.Change.Without[model.VisitID(fmt.Sprint("p/w/b", d), 1)] = true
	}
	with := Lacking(g.s, g.h, g.p, "p/w", o)
	// What stands on a lost day is done where a later one has room for two: all but
	// where the last is lost, or both before it.
	if want := 0.7 * (1 - 0.09); math.Abs(ReadyIn(with)-want) > 4*math.Sqrt(want*(1-want)/manyRuns) {
		t.Errorf("ready in %.3f, by the closed form %.3f", ReadyIn(with), want)
	}
	if got := Compare(now, with); got.Fewer < 4*got.Error {
		t.Errorf("%+v", got)
	}
}

// The same seed gives the same chances, whatever the number of hands, and
// another one others.
func TestSameSeed(t *testing.T) {
	g := newStage(12, 20)
	for d := range 10 {
		g.passage(fmt.Sprint(d), 1+d%3, 15, d)
	}
	once := Of(g.s, g.h, g.p, Options{Seed: 3})
	before := runtime.GOMAXPROCS(3)
	again := Of(g.s, g.h, g.p, Options{Seed: 3})
	runtime.GOMAXPROCS(before)
	if !reflect.DeepEqual(once, again) {
		t.Errorf("%+v, then %+v", once, again)
	}
	if other := Of(g.s, g.h, g.p, Options{Seed: 4}); reflect.DeepEqual(once, other) {
		t.Error("another seed, the same chances")
	}
}

// What is said beside a chance: how many runs, what is missing, when it is
// usually done, what is left out.
func TestChance(t *testing.T) {
	g := newStage(3, 10)
	g.passage("a", 2, 10, 0)
	g.passage("b", 2, 10, 1)
	g.passage("c", 2, 10, 2)
	g.p.Sessions = g.p.Sessions[:2] // c is left out
	guess := exactly()
	guess.Lost = 0.4
	c := Of(g.s, g.h, g.p, Options{Guess: guess})[0]
	if c.Part != "p/w" || c.Due != monday+3 || c.Runs != 1000 || c.Left != 2 || c.LeftOut != 1 {
		t.Errorf("%+v", c)
	}
	if c.Usually != monday+2 { // two days of 0..2 kept: on the 1 with chance 0.36, by the 2 with 0.648
		t.Errorf("usually done on %v", c.Usually)
	}
	// Is the first day lost, a stands on the last, and b has only its own: it is missing
	// where both days after a kept one are lost, or the second beside the first; a where
	// the first and the last are.
	if len(c.Missing) != 2 || c.Missing[0].Passage != "p/w/b" || math.Abs(c.Missing[0].Share-(0.6*0.16+0.16)) > 0.04 || math.Abs(c.Missing[1].Share-0.16) > 0.04 {
		t.Errorf("missing %+v of %+v", c.Missing, c)
	}
	if e := standardError(1000, 1000); e <= 0 || e > 0.002 {
		t.Errorf("always ready: standard error %v", e)
	}
	// A plan that holds nothing of a part doesn't make it ready.
	if c := Of(g.s, g.h, &model.Plan{}, Options{Guess: guess})[0]; c.Ready != 0 || c.Left != 0 || c.LeftOut != 3 {
		t.Errorf("nothing planned: %+v", c)
	}
	// With everything done nothing is left to luck.
	g.h.Visits = map[string][]model.Date{"p/w/a": {monday - 3}, "p/w/b": {monday - 2}, "p/w/c": {monday - 1}}
	if c := Of(g.s, g.h, g.p, Options{Guess: guess})[0]; c.Ready != 1 || c.Error != 0 || c.Left != 0 {
		t.Errorf("all done: %+v", c)
	}
	// Its first rehearsal gone by, it is no longer spoken of.
	g.h.Today = monday + 3
	if c := Of(g.s, g.h, g.p, Options{Guess: guess}); len(c) != 0 {
		t.Errorf("past: %+v", c)
	}
}

// The guess from a record, by hand.
func TestGuessOf(t *testing.T) {
	g := newStage(40, 10)
	g.passage("a", 2, 10, 0)
	if got := GuessOf(g.s, nil); got.Lost != 2.0/60 || got.Stays != 0.5 || got.Found != 0.4 {
		t.Errorf("nothing recorded: %+v", got)
	}
	visits := model.Effort{Stage: model.PassageStage, Hard: 2}
	h := &model.History{Today: monday + 20, Days: map[model.Date]model.DayNote{
		monday + 1: model.Lost, monday + 2: model.Lost, monday + 3: model.NoNote,
		monday + 25: model.Lost, // known beforehand
	}, Learnt: model.Learnt{visits: {Sessions: 9, Estimated: 90, Took: 120}}, Said: map[model.Date]bool{}}
	if got := GuessOf(g.s, h); got.Lost != 4.0/62 || got.Stays != 3.0/6 {
		t.Errorf("two days lost, of others nothing said: %+v", got)
	}
	for d := range 20 {
		h.Said[monday+model.Date(d)] = true
	}
	h.Stages = map[string]model.Date{"p/w/read-through": monday + 3}
	h.Found = map[string][]model.Passage{"p/w": {{ID: "x"}, {ID: "y"}, {ID: "z"}}}
	got := GuessOf(g.s, h)
	if got.Lost != 4.0/80 || got.Found != 5.0/6 {
		t.Errorf("two days of twenty, three passages of one read-through: %+v", got)
	}
	// Half of the doubt that there was at 60 minutes is left after as many: (1.1·60 + 120)/(60 + 90).
	for _, h.Scaled = range []bool{false, true} {
		if k := GuessOf(g.s, h).Kinds[visits]; math.Abs(k.Mean-186.0/150) > 1e-9 {
			t.Errorf("%+v", k)
		}
	}
	// A read-through that was only taken as done tells nothing, nor one of an estimate.
	g.s.Programmes[0].Parts[0].Estimate = 60
	if got := GuessOf(g.s, h).Found; got != 0.4 {
		t.Errorf("found %v", got)
	}
}

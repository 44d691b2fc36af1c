package lns

import (
	"context"
	"slices"
	"testing"

	"primaprova/model/invent"
	"primaprova/solver/construct"
	"primaprova/solver/instance"
	"primaprova/solver/pricing"
	"primaprova/solver/run"
	"primaprova/solver/tiny"
)

// spreadGreedily gives the season's greedy frames with their passages spread.
func spreadGreedily(t *testing.T, p *instance.Instance) *Fractional {
	t.Helper()
	k := NewFractional(&run.Options{Engine: tiny.HiGHS(t)}, construct.Greedy(p))
	list := p.ByRehearsal()
	m, err := k.among(pricing.NewPricer(p, 1), k, k.frames, list, instance.WeightedSum(instance.Trade))
	if err != nil {
		t.Fatal(err)
	}
	defer m.Close()
	s, err := spreadOver(context.Background(), m, k.frames, list, run.Tuned.FrameRounds, instance.Inf)
	if err != nil {
		t.Fatal(err)
	}
	for n, q := range list {
		k.shares[q] = s.shares[n]
	}
	return k
}

// Of a plan with some programmes spoiled, what was spoiled is taken back by recombining, and
// nothing else is taken over; what is better stays.
func TestGraft(t *testing.T) {
	for seed := range uint64(3) {
		p := instance.New(invent.Season(invent.Grown(8, 2, true, seed)), nil, nil)
		good := spreadGreedily(t, p)
		s := searching(p, &run.Options{Engine: tiny.HiGHS(t), Seed: 1})
		if err := s.SearchFrames(context.Background(), good, 3); err != nil {
			t.Fatal(err)
		}
		poor := good.clone()
		w := newFrameSearch(poor, instance.WeightedSum(instance.Trade), int(seed))
		w.kick(p.ByDeadline())
		if slices.Equal(poor.frames, good.frames) {
			t.Fatalf("season %d: nothing was thrown", seed)
		}
		if p.StagesIn(poor.frames) == nil {
			t.Fatalf("season %d: what was thrown has no room", seed)
		}
		best, worst := worth(good, t, w.aim), worth(poor, t, w.aim)
		if worst <= best {
			t.Errorf("season %d: thrown from %v to %v", seed, best, worst)
		}
		kept := good.clone()
		if _, err := kept.recombine(context.Background(), poor, w.aim); err != nil {
			t.Fatal(err)
		}
		if now := worth(kept, t, w.aim); now > best*1.002 {
			t.Errorf("season %d: %v grafted onto %v makes %v", seed, worst, best, now)
		}
		if _, err := poor.recombine(context.Background(), good, w.aim); err != nil {
			t.Fatal(err)
		}
		if now := worth(poor, t, w.aim); now > best*1.01 {
			t.Errorf("season %d: %v grafted onto %v makes %v", seed, best, worst, now)
		}
	}
}

// Stirring leaves frames that have room, and costs nothing.
func TestStir(t *testing.T) {
	gained := 0.0
	for seed := range uint64(3) {
		p := instance.New(invent.Season(invent.Grown(8, 2, true, seed)), nil, nil)
		k := spreadGreedily(t, p)
		s := searching(p, &run.Options{Engine: tiny.HiGHS(t), Seed: 1})
		before := worth(k, t, instance.WeightedSum(instance.Trade))
		for n := range 3 {
			if _, err := s.perturb(context.Background(), k, p.ByDeadline(), n); err != nil {
				t.Fatal(err)
			}
			if p.StagesIn(k.frames) == nil {
				t.Fatalf("season %d: the frames have no room", seed)
			}
			now := worth(k, t, instance.WeightedSum(instance.Trade))
			if now > before*1.002 {
				t.Errorf("season %d: stirred from %v to %v", seed, before, now)
			}
			gained += before - now
			before = now
		}
	}
	if gained <= 0 {
		t.Error("stirring brought nothing")
	}
}

// Each stretch is perturbed once, and some once more as long as that brings something; one
// that has no work left, not at all.
func TestStretchesAreStirred(t *testing.T) {
	p := instance.New(invent.Season(invent.Grown(8, 2, true, 1)), nil, nil)
	k := spreadGreedily(t, p)
	s := searching(p, &run.Options{Engine: tiny.HiGHS(t), Seed: 1})
	order := p.ByDeadline()
	half := len(order) / 2
	stretches := []stretch{{parts: order[:half], most: s.frameMost(half)}, {parts: order[half:], most: s.frameMost(half), walked: s.frameMost(half)}, {parts: order[half:], most: s.frameMost(half)}}
	if err := s.perturbAll(context.Background(), k, stretches); err != nil {
		t.Fatal(err)
	}
	times, again := 0, false
	for i, z := range stretches {
		times += z.times
		again = again || z.times > 1
		if (z.times > 0) != (i != 1) || (z.spent > 0) != (i != 1) || z.saved < 0 || i == 1 && z.saved != 0 {
			t.Errorf("stretch %d: %+v", i, z)
		}
	}
	if !again || times > len(stretches)+run.Tuned.PerturbMore {
		t.Errorf("stirred %d times", times)
	}
}

// A stretch that perturbing brings nothing is perturbed a second time, and no third.
func TestStirringEnds(t *testing.T) {
	z := stretch{parts: make([]int, 40)}
	for times, goesOn := range []bool{true, true, false} {
		z.times = times
		if (z.promise(run.Tuned.PerturbHope) >= run.Tuned.PerturbLeast) != goesOn {
			t.Errorf("stirred %d times for nothing it promises %v", times, z.promise(run.Tuned.PerturbHope))
		}
	}
	if z.saved = 4; z.promise(run.Tuned.PerturbHope) < run.Tuned.PerturbLeast {
		t.Errorf("a tenth of a day a part saved by two times promises %v", z.promise(run.Tuned.PerturbHope))
	}
}

// Frames rest once the work they get is done, and not before.
func TestFramesRest(t *testing.T) {
	p := instance.New(invent.Season(invent.Grown(8, 2, true, 1)), nil, nil)
	s := searching(p, &run.Options{Engine: tiny.HiGHS(t), Seed: 1})
	free := spreadGreedily(t, p)
	held := free.clone()
	held.work, held.most = 1, 1
	before := slices.Clone(held.frames)
	for _, k := range []*Fractional{free, held} {
		if err := s.SearchFrames(context.Background(), k, 2); err != nil {
			t.Fatal(err)
		}
	}
	if held.work != 1 || !slices.Equal(held.frames, before) {
		t.Errorf("they walked on, to %d", held.work)
	}
	if free.work == 0 || slices.Equal(free.frames, before) {
		t.Errorf("they did not walk: %d", free.work)
	}
}

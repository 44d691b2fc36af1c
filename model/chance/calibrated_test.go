package chance_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"primaprova/model"
	"primaprova/model/chance"
	"primaprova/model/invent"
	"primaprova/model/memory"
	"primaprova/solver"
)

// tight are seasons whose parts are anything from sure to lost.
func tight(seed uint64) *model.Season {
	z := invent.Grown(8, 0, seed%2 == 0, seed)
	z.Passages, z.Off, z.Tightness, z.Hours, z.Late = 7, 0, []float64{0.35, 0.5, 0.65, 0.85}[seed%4], seed%3 == 0, 0.2
	return invent.Season(z)
}

func greedy(t *testing.T, s *model.Season, h *model.History) *model.Plan {
	t.Helper()
	p, err := solver.Greedy(s, solver.Options{History: h})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// A plan that keeps the rules comes true where nothing goes wrong, and every
// part of it is ready: the way a player goes on keeps the rules as the audit
// knows them, and needs nothing that a plan doesn't need.
func TestNothingGoesWrong(t *testing.T) {
	for seed := range uint64(12) {
		s := tight(seed)
		h := &model.History{Today: s.From}
		for range 2 {
			p := greedy(t, s, h)
			played := map[string]bool{} // a part that is left out whole is never ready
			for _, v := range p.Sessions {
				played[v.Part] = played[v.Part] || v.Playing
			}
			for _, c := range chance.Of(s, h, p, chance.Options{Runs: 1, Change: chance.Change{NoLost: true, Exact: true}}) {
				if c.Ready != 1 && played[c.Part] {
					t.Errorf("season %d: %+v", seed, c)
				}
			}
			h, _ = s.Replay(nil, p, model.Replaying{Today: s.From + 25, TakeAsDone: true})
		}
	}
}

// bins holds, by tenths of the chance given, what was given and how often parts
// were ready. Tenth 8 is what is called 80 %: [0.75, 0.85).
type bins [11]struct{ parts, given, ready float64 }

func (b *bins) add(given, fresh float64) {
	i := int(given*10 + 0.5)
	b[i].parts++
	b[i].given += given
	b[i].ready += fresh
}

// judge wants the parts of each tenth to be ready about as often as was given,
// and those given 80 % in 75 to 85 % of the runs.
func (b *bins) judge(t *testing.T, within float64) {
	t.Helper()
	for i := range b {
		if b[i].parts == 0 {
			continue
		}
		given, ready := b[i].given/b[i].parts, b[i].ready/b[i].parts
		said := fmt.Sprintf("about %3d %%: %4.0f parts, given %4.1f %%, ready in %4.1f %%", 10*i, b[i].parts, 100*given, 100*ready)
		t.Log(said)
		if b[i].parts >= 40 && math.Abs(ready-given) > within || i == 8 && (ready < 0.75 || ready > 0.85) {
			t.Errorf("%s", said)
		}
	}
	if b[8].parts < 60 {
		t.Errorf("only %.0f parts were given 80 %%: nothing is shown", b[8].parts)
	}
}

// life is what is true of a player and nobody knows.
type life struct {
	r     *rand.Rand
	guess chance.Guess
}

func newLife(seed uint64) *life {
	l := &life{r: rand.New(rand.NewPCG(seed, 0x6c696665)), guess: chance.GuessOf(&model.Season{}, nil)}
	// Each from what GuessOf supposes beforehand.
	share := func(yes, no int) float64 {
		x := l.sum(yes)
		return x / (x + l.sum(no))
	}
	l.guess.Lost, l.guess.Stays, l.guess.Found = share(2, 58), share(2, 2), l.sum(2)/5
	for _, e := range model.Efforts() { // in their order: a map has none
		k := l.guess.Kinds[e]
		k.Mean, k.Ratio = max(0.4, k.Mean+k.Ratio*l.r.NormFloat64()), 0
		l.guess.Kinds[e] = k
	}
	return l
}

// sum draws a gamma variable of a whole shape.
func (l *life) sum(n int) (x float64) {
	for range n {
		x += l.r.ExpFloat64()
	}
	return x
}

// record gives what such a player writes down of a plan up to a day: each
// session with the minutes it took, each day that was lost.
func (l *life) record(s *model.Season, p *model.Plan, today model.Date) []model.Event {
	lost := map[model.Date]bool{}
	var out []model.Event
	add := func(e model.Event) {
		e.Entry = len(out) + 1
		out = append(out, e)
	}
	for d := s.From; d < today; d++ {
		begins := l.guess.Lost * (1 - l.guess.Stays) / (1 - l.guess.Lost)
		if lost[d] = l.r.Float64() < begins || lost[d-1] && l.r.Float64() < l.guess.Stays; lost[d] {
			add(model.Event{Kind: model.DayLost, Date: d})
		}
	}
	hard, before := map[string]int{}, map[string]model.Date{}
	for _, w := range s.Work(nil) {
		for _, q := range w.Passages {
			hard[q.Name] = q.Passage.Hard
		}
	}
	for _, v := range p.Sessions {
		if v.Date >= today || v.Stage == model.WarmUpStage || lost[v.Date] {
			continue
		}
		e := model.Effort{Stage: v.Stage}
		if v.Passage != nil {
			e.Hard = hard[*v.Passage]
		}
		k := l.guess.Kinds[e]
		mean := k.Mean * float64(v.Minutes)
		took := mean * l.r.ExpFloat64() // any spread would do; this one is not the package's own
		if n := int(mean / k.Minute); n >= 1 {
			took = 0
			for range n { // a sum of so many exponentials has the variance that is meant
				took += l.r.ExpFloat64() * mean / float64(n)
			}
		}
		done := model.Event{Kind: model.Done, Date: v.Date, Session: v.ID, Planned: v.Minutes, Took: max(1, model.Minutes(took+0.5))}
		if v.Passage != nil && *v.Visit == *v.Visits && l.r.Float64() > l.guess.Memory.Holds(memory.Case{Hard: e.Hard, Visits: *v.Visit - 1, Gap: int(v.Date - before[*v.Passage])}) {
			done.Kind = model.DidNotHold
		}
		add(done)
		if v.Passage != nil {
			before[*v.Passage] = v.Date
		}
		for n := range 8 { // passages found, as many as is true on average
			if v.Stage == model.ReadStage && l.r.Float64() < l.guess.Found/8 {
				add(model.Event{Kind: model.Found, Date: v.Date, Part: v.Part, Bars: fmt.Sprint("found-", n), Hard: 1 + l.r.IntN(3)})
			}
		}
	}
	return out
}

// TestCalibratedInMidSeason: each player is off in a way of their own. From the
// record of the first weeks the chances of the rest are given, and hold in what
// is then true of that player, which the record only hints at.
func TestCalibratedInMidSeason(t *testing.T) {
	var b bins
	for seed := range uint64(200) {
		s, l := tight(seed), newLife(seed)
		today := s.From + 24
		first := greedy(t, s, nil)
		h, _ := s.Replay(l.record(s, first, today), first, model.Replaying{Today: today, Scaled: seed%2 == 0})
		with := s.With(h)
		p := greedy(t, with, h)
		guess := chance.GuessOf(with, h)
		guess.Memory = l.guess.Memory // whether that is learnt truly is held elsewhere
		given := chance.Of(with, h, p, chance.Options{Runs: 250, Seed: seed, Guess: &guess})
		truth := l.guess
		fresh := chance.Of(with, h, p, chance.Options{Runs: 50, Seed: 1000 + seed, Guess: &truth})
		for i := range given {
			if given[i].Left > 0 {
				b.add(given[i].Ready, fresh[i].Ready)
			}
		}
	}
	b.judge(t, 0.05) // one player's parts go wrong together: a bin holds fewer cases than parts
}

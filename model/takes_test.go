package model

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// seasonOfParts gives a season of one programme p, which has six weeks.
func seasonOfParts(parts ...Part) *Season {
	return &Season{Title: "s", From: march(1), To: march(1) + 60, Limits: DefaultLimits(), Habits: DefaultHabits(),
		Programmes: []Programme{{ID: "p", Title: "p", Parts: parts, Services: []Service{{Kind: Rehearsal, Date: march(1) + 42, Start: 600, Lasts: 120}}}}}
}

// TestTakes: by hand, of one part. 30 min of listening, 30 of reading, 20 of recordings
// and an ordinary passage of 10, 10, 5, 5: with K = 60 and σ² = 2.5 the mean is 110 and
// the variance (900 + 900 + 400 + 900)/24 + 2.5·110.
func TestTakes(t *testing.T) {
	s := seasonOfParts(Part{ID: "a", Arrives: march(1), Listening: 30, ReadThrough: 30, Recordings: 20, Passages: []Passage{{ID: "1", Bars: "1", Hard: 2}}})
	off := fourOfFive * math.Sqrt(3100.0/24+275)
	want := Takes{Minutes(math.Round(110 - off)), 110, Minutes(math.Round(110 + off))}
	w := s.Work(nil)
	if got := s.Takes(&w[0], nil); got != want {
		t.Errorf("%+v, not %+v", got, want)
	}
	// 10 visits that took twice as long: r = (60 + 200)/(60 + 100) = 1.625, and of what
	// was learnt less doubt stays in passages alone.
	h := &History{Today: s.From, Learnt: Learnt{Effort{PassageStage, 2}: {Sessions: 10, Estimated: 100, Took: 200}}}
	doubt := between * 60 / 160
	off = fourOfFive * math.Sqrt(2200.0/24+doubt*900+275)
	want = Takes{Minutes(math.Round(128.75 - off)), 129, Minutes(math.Round(128.75 + off))}
	if got := s.Takes(&w[0], h); got != want {
		t.Errorf("with the record %+v, not %+v", got, want)
	}
}

// TestFourOfFive: of players whose true ratios and evenings are as supposed, the range
// holds what the work took in four cases of five.
func TestFourOfFive(t *testing.T) {
	s := seasonOfParts(Part{ID: "a", Arrives: march(1), Listening: 30, ReadThrough: 30, Recordings: 20, Passages: []Passage{{ID: "1", Bars: "1", Hard: 2}, {ID: "2", Bars: "2", Hard: 3}}})
	w := s.Work(nil)
	takes, wanted := s.Takes(&w[0], nil), s.undone(&w[0], true)
	r := rand.New(rand.NewPCG(1, 2))
	const plays = 4000
	held := 0
	for range plays {
		ratio, sum := map[string]float64{}, 0.0
		for _, x := range wanted {
			kind := string(x.Stage) // the second passage is the only hard one
			if x.Stage == PassageStage {
				kind = x.Passage
			}
			if ratio[kind] == 0 {
				ratio[kind] = 1 + math.Sqrt(between)*r.NormFloat64()
			}
			m := float64(x.Minutes)
			sum += ratio[kind]*m + math.Sqrt(noise*m)*r.NormFloat64()
		}
		if m := Minutes(math.Round(sum)); m >= takes.Low && m <= takes.High {
			held++
		}
	}
	if share := float64(held) / plays; share < 0.77 || share > 0.83 {
		t.Errorf("%+v holds %.3f of what it took", takes, share)
	}
}

// TestByLength: by hand, and that n works hold one more in n−1 cases of n+1.
func TestByLength(t *testing.T) {
	whole := []Tally{{Estimated: 10, Took: 30}, {Estimated: 40, Took: 80}}
	if _, is := ByLength(whole, 20); is {
		t.Error("two works are too few")
	}
	whole = append(whole, Tally{Estimated: 50, Took: 200})
	if got, is := ByLength(whole, 20); !is || got != (Takes{40, 62, 80}) {
		t.Errorf("%+v", got)
	}
	r := rand.New(rand.NewPCG(3, 4))
	for _, n := range []int{3, 5, 9} {
		const plays = 4000
		held := 0
		for range plays {
			work := func() Tally {
				m := 1000 + 5000*r.Float64()
				return Tally{Estimated: Minutes(m), Took: Minutes(m * math.Exp(r.NormFloat64()))}
			}
			var all []Tally
			for range n {
				all = append(all, work())
			}
			x := work()
			if of, _ := ByLength(all, x.Estimated); x.Took >= of.Low && x.Took <= of.High {
				held++
			}
		}
		if share, want := float64(held)/plays, float64(n-1)/float64(n+1); math.Abs(share-want) > 0.03 {
			t.Errorf("%d works hold %.3f, not %.3f", n, share, want)
		}
	}
}

// TestWholeWorks: what counts are works of known length with all their visits behind.
func TestWholeWorks(t *testing.T) {
	part := func(id string, length Minutes) Part {
		return Part{ID: id, Arrives: march(1), Listening: 30, ReadThrough: 30, Duration: length, Passages: []Passage{{ID: "1", Bars: "1", Hard: 3}}}
	}
	inFingers := part("held", 20)
	inFingers.Kept = 60
	s := seasonOfParts(part("whole", 25), part("lacks", 25), part("nolength", 0), inFingers)
	s.Earlier = []Earlier{{Effort{Stage: WholeWork}, Tally{Sessions: 6, Estimated: 10, Took: 30}}, {Effort{Stage: ReadStage}, Tally{Sessions: 6, Estimated: 60, Took: 30}}}
	var events []Event
	for i, name := range []string{"whole", "lacks", "nolength", "held"} {
		for k := range 5 - i%2 {
			events = append(events, Event{Entry: len(events) + 1, Kind: Done, Date: march(2) + Date(k), Session: VisitID(fmt.Sprintf("p/%s/1", name), k+1), Took: 20})
		}
	}
	h, _ := s.Replay(events, nil, Replaying{Today: march(9)})
	got := s.WholeWorks(h)
	want := []Tally{{Sessions: 6, Estimated: 10, Took: 30}, {Sessions: 5, Estimated: 25, Took: 100}}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("%+v, not %+v", got, want)
	}
	if r, counts := h.Learnt.Ratio(Effort{Stage: WholeWork}); counts || r != 1 {
		t.Errorf("a whole work is no kind of session: %v", r)
	}
}

// TestTaught: by hand. 30 min of reading and 10, 10, 5, 5 of visits lie ahead; with 100 min recorded what was learnt of
// visits is in doubt by √(60/160/24) = 0.125 of their 30 min.
func TestTaught(t *testing.T) {
	s := seasonOfParts(Part{ID: "a", Arrives: march(1), ReadThrough: 30, Passages: []Passage{{ID: "1", Bars: "1", Hard: 2}}})
	for _, c := range []struct {
		sessions int
		took     Minutes
		learnt   Minutes
		sure     bool
	}{
		{10, 200, 80, true},  // 1.625
		{4, 200, 60, false},  // too few
		{10, 140, 70, true},  // 1.25: 10 min more, the doubt is 3.75
		{10, 125, 65, false}, // 1.16: 5 min more
		{10, 110, 60, false}, // 1.06: none
		{10, 50, 50, true},   // 0.69: 10 min less
	} {
		h := &History{Today: s.From, Scaled: c.sessions == 4, Learnt: Learnt{Effort{PassageStage, 2}: {Sessions: c.sessions, Estimated: 100, Took: c.took}}}
		if planned, learnt, sure := s.Taught(h); planned != 60 || learnt != c.learnt || sure != c.sure {
			t.Errorf("%d sessions took %v: %v, %v, %v", c.sessions, c.took, planned, learnt, sure)
		}
	}
}

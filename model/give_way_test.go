package model

import (
	"math/bits"
	"math/rand/v2"
	"slices"
	"testing"
)

// TestFewestGiveWay: where everything may begin at once and one job is one part, as few parts
// give way as can, by trying every choice; and where all fits none does.
func TestFewestGiveWay(t *testing.T) {
	some := 0
	for seed := range uint64(400) {
		r := rand.New(rand.NewPCG(seed, 1))
		days, n := 4+r.IntN(5), 1+r.IntN(7)
		rooms := make([]Minutes, days)
		for d := range rooms {
			rooms[d] = Minutes(10 * r.IntN(5))
		}
		asked := make([][]job, n)
		order := make([]int, n)
		for i := range asked {
			asked[i] = []job{{minutes: Minutes(5 + 5*r.IntN(8)), last: r.IntN(days)}}
			order[i] = i
		}
		slices.SortStableFunc(order, func(a, b int) int { return asked[a][0].last - asked[b][0].last })
		least := n
		for set := range 1 << n { // who stays
			var all []job
			for i := range n {
				if set>>i&1 == 1 {
					all = append(all, asked[i]...)
				}
			}
			if len(all) == 0 || demandTest(all, rooms, 1, leastSlack)[0].slack() >= 0 {
				least = min(least, n-bits.OnesCount(uint(set)))
			}
		}
		got := fewest(order, nil, asked, rooms)
		if len(got) != least {
			t.Errorf("case %d: %d of %d give way, %d would do", seed, len(got), n, least)
		}
		if least > 0 && least < n {
			some++
		}
	}
	if some < 100 {
		t.Errorf("only in %d cases some do and some don't: little is shown", some)
	}
}

// crowded gives a season of two parts that are read, four passages of four visits of 10 min and two
// of them, due after six days of room each. Their first two visits take 120 min.
func crowded(room Minutes) (*Season, *History) {
	s, _ := fixture()
	s.Limits.RestDays, s.Limits.WarmUp, s.Limits.Playing = nil, 0, ByDay[Minutes]{Every: room}
	s.Habits.WholeParts, s.Habits.LeastGaps = true, []int{1}
	part := func(id string, passages int) Part {
		p := Part{ID: id, Arrives: march(1), ReadThrough: 10}
		for k := range passages {
			p.Passages = append(p.Passages, Passage{ID: string(rune('a' + k)), Hard: 2, Visits: []Minutes{10, 10, 10, 10}})
		}
		return p
	}
	s.Programmes = []Programme{{ID: "p", Services: []Service{{Kind: Rehearsal, Date: march(9), Start: 600, Lasts: 60}},
		Parts: []Part{part("long", 4), part("short", 2)}}}
	h := &History{Today: march(3), Stages: map[string]Date{}, Visits: map[string][]Date{}}
	for _, w := range s.Work(nil) {
		h.Stages[StageID(w.Name, ReadStage)] = march(2)
	}
	return s, h
}

// TestPartsGiveWay: six days of 40 min hold all 240 min. Of 30 they hold the first and second visits of all and
// the later ones of one part, so that the longer one gives way; of 25 they don't, and both do.
func TestPartsGiveWay(t *testing.T) {
	for _, c := range []struct {
		room Minutes
		want []string
	}{{40, nil}, {30, []string{"p/long"}}, {25, []string{"p/long", "p/short"}}} {
		s, h := crowded(c.room)
		off := *s
		off.Habits.WholeParts = false
		plain := off.Wanted(h)
		var got []string
		for i, w := range s.Wanted(h) {
			if way := slices.Contains(c.want, w.Part) && w.Visit > 2; w.GivesWay != way {
				t.Errorf("room %v: %s gives way: %v", c.room, w.ID, w.GivesWay)
			}
			switch want := plain[i].Value; {
			case !w.GivesWay && w.Value != want:
				t.Errorf("room %v: %s is worth %d, without the habit %d", c.room, w.ID, w.Value, want)
			case w.GivesWay && w.Value != 5-w.Visit: // 2 and 1
				t.Errorf("room %v: %s gives way and is worth %d", c.room, w.ID, w.Value)
			}
		}
		for _, w := range s.Work(h) {
			if w.GivesWay {
				got = append(got, w.Name)
			}
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("room %v: %v give way, want %v", c.room, got, c.want)
		}
	}
}

// TestLostPartsGiveWay: a part that can't be whole any more gives way first, here since a
// passage of the shorter one has no days left for its four visits.
func TestLostPartsGiveWay(t *testing.T) {
	s, h := crowded(60)
	h.Found = map[string][]Passage{"p/short": {{ID: "late", Hard: 2, Visits: []Minutes{10, 10, 10, 10}, Found: march(6)}}}
	s = s.With(h)
	for _, w := range s.Work(h) {
		if w.GivesWay != (w.Name == "p/short") {
			t.Errorf("%s gives way: %v", w.Name, w.GivesWay)
		}
	}
}

// TestGivingWayComesLast: on a day that runs over, what gives way is what is cut off, though it has
// fewer days left.
func TestGivingWayComesLast(t *testing.T) {
	s, h := crowded(22) // 110 min in five days for 20 of early visits, 80 and 30 of later ones
	h.Today = march(4)
	for _, k := range []string{"a", "b", "c", "d"} {
		h.Visits["p/long/"+k] = []Date{march(2), march(3)}
	}
	h.Visits["p/short/b"] = []Date{march(1), march(2), march(3)}
	order := func() (out []string) {
		p := &Plan{Sessions: s.Past(h, nil)}
		for _, w := range s.Wanted(h) {
			if w.ID == "p/long/a/visit-3" || w.ID == "p/short/b/visit-4" {
				p.Sessions = append(p.Sessions, w.On(h.Today))
			}
		}
		s.FinishFrom(p, h)
		for _, v := range p.ByDate()[h.Today] {
			out = append(out, v.Part)
		}
		return out
	}
	if got, want := order(), []string{"p/short", "p/long"}; !slices.Equal(got, want) {
		t.Errorf("played in the order %v, want %v", got, want)
	}
	s.Habits.WholeParts = false
	if got, want := order(), []string{"p/long", "p/short"}; !slices.Equal(got, want) {
		t.Errorf("without the habit in the order %v, want %v", got, want)
	}
}

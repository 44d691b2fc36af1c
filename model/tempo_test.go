package model

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// The traditional scale as it is quoted: 40 to 60 by 2, to 72 by 3, to 120 by
// 4, to 144 by 6, to 208 by 8; 39 marks, steps of 3.45 to 5.56 percent (the
// percentages computed from it).
func TestMetronome(t *testing.T) {
	want := []Tempo{40, 42, 44, 46, 48, 50, 52, 54, 56, 58, 60, 63, 66, 69, 72, 76, 80, 84, 88, 92, 96, 100, 104, 108, 112,
		116, 120, 126, 132, 138, 144, 152, 160, 168, 176, 184, 192, 200, 208}
	got := Metronome()
	if !slices.Equal(got, want) || len(got) != 39 {
		t.Fatalf("%d marks: %v", len(got), got)
	}
	least, most := 100.0, 0.0
	for i := 1; i < len(got); i++ {
		step := 100 * float64(got[i]-got[i-1]) / float64(got[i-1])
		least, most = min(least, step), max(most, step)
	}
	if math.Abs(least-3.45) > 0.005 || math.Abs(most-5.56) > 0.005 {
		t.Errorf("steps of %.2f to %.2f percent", least, most)
	}
}

// paced is a season with one passage of a pace, visited so many times.
func paced(p Pace, visits, steps int) (*Season, *PassageWork) {
	s := &Season{Limits: DefaultLimits(), Habits: DefaultHabits()}
	s.Habits.TempoSteps = steps
	q := Passage{ID: "A", Bars: "1-8", Hard: 2, Tempo: p, Visits: make([]Minutes, visits)}
	for k := range q.Visits {
		q.Visits[k] = 10
	}
	return s, &PassageWork{Name: "p/w/A", Passage: q, Recipe: s.Recipe(&q)}
}

// By hand: 60 to 96 are ten steps (63 66 69 72 76 80 84 88 92 96).
func TestLadders(t *testing.T) {
	for _, c := range []struct {
		pace          Pace
		visits, steps int
		want          string
	}{
		{Pace{60, 96}, 4, 4, "[60-72 of 96 66-84 of 96 76-96, once 100 96]"}, // 4, 3, 3 steps and one over, then the check
		{Pace{60, 96}, 4, 3, "[60-69 of 96 63-80 of 96 72-92 of 96 96]"},     // too many steps for three visits
		{Pace{60, 96}, 3, 3, "[60-69 of 96 63-80 of 96 92 of 96]"},
		{Pace{88, 96}, 4, 3, "[88-92 of 96 88-96, once 100 88-96, once 100 96]"}, // a step over, once
		{Pace{96, 96}, 2, 3, "[96, once 100 96]"},
		{Pace{0, 100}, 3, 8, "[60-80 of 100 72-100, once 104 100]"}, // well under: 60 %
		{Pace{90, 98}, 2, 3, "[90-98 98]"},                          // between the marks: 92, 96, 98
		{Pace{200, 208}, 2, 3, "[200-208 208]"},                     // nothing lies over the last mark
		{Pace{40, 40}, 1, 3, "[40]"},
	} {
		s, w := paced(c.pace, c.visits, c.steps)
		if got := fmt.Sprint(s.Ladder(w, nil)); got != c.want {
			t.Errorf("%v in %d visits of %d steps: %s instead of %s", c.pace, c.visits, c.steps, got, c.want)
		}
	}
	if s, w := paced(Pace{}, 4, 3); s.Ladder(w, nil) != nil {
		t.Error("a ladder without a goal")
	}
}

// TestAnyLadder: ladders rise, never by more than the steps of a day, and end
// at the goal where the visits allow for it; what is recorded moves them.
func TestAnyLadder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tempo := rapid.IntRange(40, 208)
		p := Pace{Goal: Tempo(tempo.Draw(t, "goal"))}
		if rapid.Bool().Draw(t, "now") {
			p.Now = Tempo(rapid.IntRange(40, int(p.Goal)).Draw(t, "now"))
		}
		visits, steps := rapid.IntRange(1, 8).Draw(t, "visits"), rapid.IntRange(1, 10).Draw(t, "steps")
		s, w := paced(p, visits, steps)
		h := &History{Tempos: map[string]Tempo{}}
		for k := range rapid.IntRange(0, visits).Draw(t, "done") {
			w.Done = append(w.Done, Date(k+1))
			if rapid.Bool().Draw(t, "said") {
				h.Tempos[VisitID(w.Name, k+1)] = Tempo(rapid.SampledFrom([]int{0, tempo.Draw(t, "tempo")}).Draw(t, "reached"))
			}
		}
		ladder := s.Ladder(w, h)
		if len(ladder) != visits {
			t.Fatalf("%d rungs for %d visits", len(ladder), visits)
		}
		reached := p.Start()
		for k, r := range ladder {
			if most := up(reached, steps, p.Goal); r.To > max(reached, most) || r.To > p.Goal || stepsTo(min(reached, p.Goal), r.To) > steps {
				t.Fatalf("visit %d goes from %d to %d, more than %d steps", k+1, reached, r.To, steps)
			}
			if r.From > r.To || r.To < min(reached, p.Goal) {
				t.Fatalf("visit %d falls: reached %d, then %v", k+1, reached, r)
			}
			if r.Over != 0 && (r.Over <= p.Goal || r.To != p.Goal || k == visits-1 || stepsTo(min(reached, p.Goal), r.Over) > steps) {
				t.Fatalf("visit %d goes over wrongly: %v", k+1, r)
			}
			if k > len(w.Done) && r.From < ladder[k-1].From {
				t.Fatalf("visit %d begins below the visit before: %v", k+1, ladder)
			}
			reached = r.To
			if said, ok := h.Tempos[VisitID(w.Name, k+1)]; ok && k < len(w.Done) {
				if reached = said; said == 0 {
					reached = r.From
				}
			}
		}
		// What lies ahead ends at the goal, if there are days enough.
		if left := visits - len(w.Done); left > 0 {
			at := p.Start()
			if n := len(w.Done); n > 0 {
				at = ladder[n-1].To
				if said, ok := h.Tempos[VisitID(w.Name, n)]; ok {
					if at = said; said == 0 {
						at = ladder[n-1].From
					}
				}
			}
			at = min(at, p.Goal)
			if end := ladder[visits-1].To; end != p.Goal && stepsTo(at, p.Goal) <= left*steps {
				t.Fatalf("ends at %d of %d, from %d with %d visits of %d steps: %v", end, p.Goal, at, left, steps, ladder)
			}
		}
	})
}

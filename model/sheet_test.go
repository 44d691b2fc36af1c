package model

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestSheet(t *testing.T) {
	s, p := fixture()
	s.Programmes[0].Parts[0].Work = "Symphony in Slate"
	s.Programmes[0].Parts[0].Passages[0].Tempo = Pace{80, 96}
	s.Programmes[0].Parts[0].Passages[0].Exposed = true
	sheet := s.View(p, nil).Sheet(march(3)) // warm-up, A and B for the first time
	var got []string
	for _, l := range sheet.Lines {
		line := strings.TrimSpace(strings.Join([]string{l.Work, l.Bars, l.Do}, "|"))
		if l.Tempo != nil {
			line += "|" + l.Tempo.String()
		}
		got = append(got, line)
	}
	if want := []string{"||short, easy, under tempo",
		"Symphony in Slate|A|slowly; settle fingerings, bowings, breaths|80-88 of 96",
		"||stand up, move, let the muscles go", // 10 + 10 + 15 min are more than a block
		"Symphony in Slate|B|slowly; settle fingerings, bowings, breaths"}; !slices.Equal(got, want) {
		t.Errorf("%q instead of %q", got, want)
	}
	// What is said every week is said in full on its first day of playing, then in a line.
	const rest = "Rest 5 min after 25 min of playing at most."
	for d, wants := range map[Date][]string{march(2): {OnPain, OnCare, rest + " Move, and let the muscles go."},
		march(3): {OnPain, "Exposed bars get their visit even when they go well.", rest}} {
		mind := s.View(p, nil).Sheet(d).Mind
		for _, want := range wants {
			if !slices.Contains(mind, want) {
				t.Errorf("%v: nothing is said of %q: %q", d, want, mind)
			}
		}
		if slices.Contains(mind, OnCare) != (d == march(2)) {
			t.Errorf("%v: the usual is said in full once a week: %q", d, mind)
		}
	}
	if sheet := s.View(p, nil).Sheet(march(1)); len(sheet.Lines) != 1 || slices.Contains(sheet.Mind, OnPain) {
		t.Errorf("a day of listening: %+v", sheet)
	}
	last := s.View(p, nil).Sheet(march(10)) // A's fourth visit
	if l := last.Sessions()[1]; !l.Check || l.Do != "once at tempo as in concert; then what failed" || l.Tempo.String() != "96" {
		t.Errorf("the check: %+v", l)
	}
	h := &History{Today: march(8), Visits: map[string][]Date{pageA: {march(3), march(4), march(6)}}, Tempos: map[string]Tempo{VisitID(pageA, 3): 84}}
	last = s.View(p, h).Sheet(march(10))
	if l := last.Sessions()[1]; l.Tempo.String() != "96" || l.Tempo.Short() != 0 {
		t.Errorf("the check after 84: %v", l.Tempo)
	}
	s.Habits.TempoSteps = 1
	last = s.View(p, h).Sheet(march(10))
	if l := last.Sessions()[1]; l.Do != "once at 88 and no faster; then what failed" {
		t.Errorf("a check under the goal: %v", l.Do)
	}
	if !slices.ContainsFunc(last.Mind, func(m string) bool { return strings.Contains(m, "under the goal") }) {
		t.Errorf("nothing is said of a goal that is not reached: %q", last.Mind)
	}
}

// TestVisitWork: the check is the last visit, slow work the first, and what
// lies between leads from small to whole.
func TestVisitWork(t *testing.T) {
	rank := func(do string) int {
		return slices.IndexFunc([]string{"slowly; ", "in chunks", "whole, under", "in context", "once at tempo"}, func(w string) bool { return strings.HasPrefix(do, w) })
	}
	for n := 2; n <= 9; n++ {
		before := -1
		for k := 1; k <= n; k++ {
			r := rank(visitWork(k, n, nil))
			if r < before || r < 0 || (k == 1) != (r == 0) || (k == n) != (r == 4) {
				t.Errorf("visit %d of %d: %q", k, n, visitWork(k, n, nil))
			}
			before = r
		}
	}
}

// TestAnySheet: a sheet has every session once and in order, and no run of
// playing without a rest is longer than a block unless one session alone is.
func TestAnySheet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, p := fixture()
		s.Limits.Block = Minutes(rapid.IntRange(10, 40).Draw(t, "block"))
		if rapid.Bool().Draw(t, "hours") {
			s.Hours.Every = anySpans(t)
		}
		for i := range p.Sessions {
			p.Sessions[i].Date = march(rapid.IntRange(1, 3).Draw(t, "day"))
		}
		s.Finish(p)
		sheets := s.View(p, nil)
		seen := 0
		for d := s.From; d <= s.To; d++ {
			sheet := sheets.Sheet(d)
			var run, longest Minutes
			rest := false
			for _, l := range sheet.Lines {
				if l.Session == nil {
					if rest || l.Rest <= 0 {
						t.Fatalf("%v: two rests running, or none: %+v", d, sheet.Lines)
					}
					run, longest, rest = 0, 0, true
					continue
				}
				seen, rest = seen+1, false
				if !l.Session.Playing {
					run, longest = 0, 0
					continue
				}
				run += l.Session.Minutes
				longest = max(longest, l.Session.Minutes)
				if l.Session.Start == nil && run > s.Limits.Block && run != longest {
					t.Fatalf("%v: %v of playing without a rest: %+v", d, run, sheet.Lines)
				}
			}
		}
		if seen != len(p.Sessions) {
			t.Fatalf("%d sessions on sheets, %d in the plan", seen, len(p.Sessions))
		}
	})
}

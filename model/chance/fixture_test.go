package chance

import (
	"math"
	"testing"
	"time"

	"primaprova/model"
)

var monday = model.NewDate(2027, time.January, 11)

// stage is one programme with one part that has been read, on so many days with
// so much room each, before a first rehearsal on the day after them.
type stage struct {
	s *model.Season
	h *model.History
	p *model.Plan
}

func newStage(days int, room model.Minutes) *stage {
	s := &model.Season{TimeZone: "Europe/Oslo", From: monday, To: monday + model.Date(days), Limits: model.DefaultLimits(), Habits: model.DefaultHabits()}
	s.Habits.ShortGaps = false // the closed forms have the gaps as they stand
	s.Limits.Return = model.Return{}
	s.Limits.Playing.Every, s.Limits.WarmUp, s.Limits.Passages = room, 0, 1000
	s.Habits.Step = 1
	s.Programmes = []model.Programme{{ID: "p",
		Services: []model.Service{{Kind: model.Rehearsal, Date: monday + model.Date(days), Start: 600, Lasts: 60}},
		Parts:    []model.Part{{ID: "w", Arrives: monday - 10, ReadThrough: 10}}}}
	h := &model.History{Today: monday, Stages: map[string]model.Date{"p/w/read-through": monday - 5}, Visits: map[string][]model.Date{}}
	return &stage{s, h, &model.Plan{}}
}

// passage adds a passage with visits of so many minutes each, on these days.
func (g *stage) passage(id string, hard int, m model.Minutes, days ...int) {
	q := model.Passage{ID: id, Hard: hard}
	for range days {
		q.Visits = append(q.Visits, m)
	}
	part := &g.s.Programmes[0].Parts[0]
	part.Passages = append(part.Passages, q)
	for _, w := range g.s.Wanted(g.h) {
		if w.Passage == model.PassageName("p/w", id) {
			g.p.Sessions = append(g.p.Sessions, w.On(monday+model.Date(days[w.Visit-1])))
		}
	}
}

// exactly is a guess with which nothing goes wrong.
func exactly() *Guess {
	g := &Guess{Kinds: map[model.Effort]model.Spread{}}
	for _, e := range model.Efforts() {
		g.Kinds[e] = model.Spread{Mean: 1}
	}
	return g
}

func (g *Guess) hard(n int, k model.Spread) {
	g.Kinds[model.Effort{Stage: model.PassageStage, Hard: n}] = k
}

const manyRuns = 40_000

// wants compares the simulated chance of the only part with a figure known
// otherwise: no further off than four standard errors, which a right program
// passes for all but one seed in 15,000.
func (g *stage) wants(t *testing.T, guess *Guess, want float64) {
	t.Helper()
	got := Of(g.s, g.h, g.p, Options{Runs: manyRuns, Seed: 1, Guess: guess})
	if len(got) != 1 || got[0].Runs != manyRuns {
		t.Fatalf("chances %+v", got)
	}
	e := math.Sqrt(want * (1 - want) / manyRuns)
	if d := got[0].Ready - want; math.Abs(d) > 4*e+1e-9 {
		t.Errorf("chance %.4f, by the closed form %.4f: %.1f standard errors off", got[0].Ready, want, d/e)
	}
	if want > 0.01 && want < 0.99 && math.Abs(got[0].Error-e) > 0.1*e {
		t.Errorf("standard error %.5f, by the binomial %.5f", got[0].Error, e)
	}
}

package chance

import (
	"math/rand/v2"
	"testing"

	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver"
)

// However a season goes, the way the player goes on keeps the rules that model's
// audit knows by itself: what was done, on the days on which it was done, is a
// plan of a season whose lost days are days off. Minutes
// are no matter of it, since work that is cut in two counts on the day on which
// it ends; the closed forms of gamma sums hold the days' room.
func TestGoingOnKeepsTheRules(t *testing.T) {
	moved := 0
	for seed := range uint64(40) {
		r := rand.New(rand.NewPCG(seed, 1))
		z := invent.Grown(6, 0, seed%2 == 0, seed)
		z.Passages, z.Off, z.Tightness, z.Hours, z.Late = 6, 0, 0.6+0.5*r.Float64(), seed%3 == 0, 0.3
		s := invent.Season(z)
		s.Limits.Passages, s.Limits.NewOnConcerts = 6+int(seed%4), seed%2 == 0
		s.Habits.ShortGaps = false // lost days would change the gaps that the audit asks for
		p, err := solver.Greedy(s, solver.Options{})
		if err != nil {
			t.Fatal(err)
		}
		h, _ := s.Replay(halfDone(r, s, p), p, model.Replaying{Today: s.From + 14, TakeAsDone: seed%4 != 0})
		if seed%5 == 0 {
			h = nil
		}
		with := s.With(h)
		guess := GuessOf(with, h)
		guess.Lost = 0.15
		o := Options{Guess: &guess}
		if seed%2 == 1 {
			o.Change.Without = map[string]bool{}
			for i, w := range with.Wanted(h) {
				o.Change.Without[w.ID] = i%3 == 0 && w.Visit > 1 && w.Visit == w.Visits
			}
		}
		tab := newTable(with, h, p, &o)
		g := newGame(tab)
		for run := range uint64(5) {
			g.draw(run)
			g.play(g.t.days)
			moved += judge(t, with, h, p, g)
		}
	}
	if moved < 1000 {
		t.Errorf("only %d sessions were moved", moved)
	}
}

// halfDone records some of what was planned in two weeks, not always in order.
func halfDone(r *rand.Rand, s *model.Season, p *model.Plan) (out []model.Event) {
	for _, v := range p.Sessions {
		if v.Date < s.From+14 && v.Stage != model.WarmUpStage && r.IntN(3) > 0 {
			kind := []model.EventKind{model.Done, model.Done, model.NotDone, model.DidNotHold}[r.IntN(4)]
			if kind == model.DidNotHold && v.Passage == nil {
				kind = model.Done
			}
			out = append(out, model.Event{Entry: len(out) + 1, Kind: kind, Date: v.Date, Session: v.ID, Planned: v.Minutes})
		}
	}
	return out
}

// judge audits one run, and gives how many sessions were moved.
func judge(t *testing.T, s *model.Season, h *model.History, p *model.Plan, g *game) (moved int) {
	t.Helper()
	lost := *s
	lost.Limits.DaysOff = append([]model.Range{}, s.Limits.DaysOff...)
	for d, gone := range g.lost {
		if day := s.From + model.Date(d); gone && d >= g.t.today {
			lost.Limits.DaysOff = append(lost.Limits.DaysOff, model.Range{From: day, To: day})
		}
	}
	last := map[string]model.Date{} // lost days can bring the date forward that a passage is worked at for
	for _, w := range lost.Work(h) {
		last[w.Name] = w.RecordingDays(&lost.Habits).To
	}
	lived := &model.Plan{}
	for i, want := range s.Wanted(h) {
		k := g.t.wanted[i].task
		if k == none {
			continue
		}
		task := &g.t.tasks[k]
		if g.done[k] == none {
			continue
		}
		if g.done[k] != task.planned {
			moved++
		}
		if want.Stage == model.RecordingsStage && g.t.from+model.Date(g.done[k]) > last[want.Part] {
			continue
		}
		lived.Sessions = append(lived.Sessions, want.On(s.From+model.Date(g.done[k])))
	}
	lost.Finish(lived)
	for _, b := range lost.Audit(lived, h) {
		switch b.Rule {
		case model.CapRule, model.HoursRule, model.ListeningRule, model.AccountedRule:
			// See above; and what was never done is not named as left out.
		default:
			t.Errorf("%v", b)
		}
	}
	return moved
}

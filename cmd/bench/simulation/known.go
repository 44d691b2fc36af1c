package simulation

import (
	"context"
	"fmt"

	"primaprova/model"
	"primaprova/solver"
	"primaprova/solver/highs"
)

// readyKnown counts the parts of which a plan places everything that knew the season's luck from its first day
// on: the days that will be lost, what read-throughs will find, and what sessions take on average; with
// parts kept whole where days are short. Each session takes its mean, and every check holds. So it is what
// the season's days have room for, and no way in which things go wrong gets more by much.
func readyKnown(ctx context.Context, engine *highs.Library, s *model.Season, world World, work float64) (n int, err error) {
	one := *s
	one.Habits.WholeParts, one.Earlier = true, nil
	for _, e := range model.Efforts() {
		one.Earlier = append(one.Earlier, model.Earlier{Effort: e, Tally: model.Tally{Sessions: 1000, Estimated: 100_000, Took: model.Minutes(100_000 * world.Long)}})
	}
	l := life{world: world, season: &one}
	for d := s.From; d <= s.To; d++ {
		if world.lost(d) {
			l.say(model.Event{Kind: model.DayLost, Date: d})
		}
	}
	for i := range s.Programmes {
		p := &s.Programmes[i]
		for j := range p.Parts {
			l.find(s.From, model.PartName(p.ID, p.Parts[j].ID))
		}
	}
	for i := range l.events { // known with the part, not first with its read-through
		if e := &l.events[i]; e.Kind == model.Found {
			e.Date = s.From
		}
	}
	now, h := l.state(s.From)
	plan, err := solver.Solve(ctx, now, solver.Options{Engine: engine, Tolerance: model.DefaultTolerance, Work: work, History: h})
	if err != nil {
		return 0, fmt.Errorf("all known beforehand: %w", err)
	}
	lacks := map[string]bool{}
	for _, u := range plan.Unplaced {
		lacks[u.Part] = lacks[u.Part] || u.Stage.Playing()
	}
	for _, w := range now.Work(h) {
		if !lacks[w.Name] {
			n++
		}
	}
	return n, nil
}

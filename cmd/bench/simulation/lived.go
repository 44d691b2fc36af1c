package simulation

import (
	"context"
	"encoding/json"
	"io"
	"maps"
	"slices"

	"primaprova/model"
	"primaprova/model/chance"
	"primaprova/model/invent"
	"primaprova/solver"
	"primaprova/solver/highs"
)

// Lived is a season that was lived through, planned again as things happened:
// what stood on some mornings, and what came of it. It knows nothing of
// chances, so that any can be held against it.
type Lived struct {
	Seed      uint64
	Tightness float64
	Motor     bool
	Events    []model.Event
	Mornings  []Morning
	Stood     []string // parts that were ready
	Reached   []string // parts each of whose passages was worked at as often as its recipe has it, the last check apart
}

// Morning is what a player has before a day: the record so far, and the plan.
type Morning struct {
	Day    int             // of the season, from 0
	Events int             // so many of the season's
	Plan   []model.Session // what of it lies ahead
}

// Live lives one season through, planned again as things happen; without an engine
// what fails is only fitted in again. So many days lie between the mornings that are
// kept.
func Live(ctx context.Context, engine *highs.Library, seed uint64, tightness float64, motor bool, work float64, every int) (*Lived, error) {
	out := &Lived{Seed: seed, Tightness: tightness, Motor: motor}
	season := out.season()
	first, err := planned(ctx, season, solver.Options{Engine: engine, Tolerance: model.DefaultTolerance, Work: work})
	if err != nil {
		return nil, err
	}
	l := &life{world: Ordinary(seed, motor), season: season, way: &replanning{engine: engine, work: work, first: first}}
	l.morning = func(d model.Date) {
		if day := int(d - season.From); day%every == 0 {
			ahead := slices.DeleteFunc(slices.Clone(l.plan.Sessions), func(v model.Session) bool { return v.Date < d })
			out.Mornings = append(out.Mornings, Morning{day, len(l.events), ahead})
		}
	}
	got, err := l.run(ctx)
	if err != nil {
		return nil, err
	}
	out.Events, out.Reached = l.events, got.reached
	out.Stood = slices.Sorted(maps.Keys(got.stood))
	return out, nil
}

func (l *Lived) season() *model.Season {
	s := invent.Season(Size(l.Seed, l.Tightness))
	s.Habits = model.DefaultHabits()
	return s
}

// Given is a chance that was given to a part on a morning, and what came of it.
type Given struct {
	Of             *Lived
	Day            int // of the season, from 0
	Part           string
	Ahead          int // days to its first rehearsal
	LeftOut        int // sessions that the plan of that morning leaves out
	Ready, Worked  float64
	Stood, Reached bool
}

// Chances gives what model/chance says on the mornings of a season, of the parts
// whose first rehearsal lies ahead.
func (l *Lived) Chances(runs int) []Given {
	var out []Given
	season := l.season()
	for _, m := range l.Mornings {
		today, plan := season.From+model.Date(m.Day), &model.Plan{Sessions: m.Plan}
		h, _ := season.Replay(l.Events[:m.Events], plan, model.Replaying{Today: today, Scaled: true})
		for _, c := range chance.Of(season.With(h), h, plan, chance.Options{Runs: runs, Seed: l.Seed}) {
			if c.Left > 0 && c.Due > today {
				out = append(out, Given{l, m.Day, c.Part, int(c.Due - today), c.LeftOut, c.Ready, c.Worked, slices.Contains(l.Stood, c.Part), slices.Contains(l.Reached, c.Part)})
			}
		}
	}
	return out
}

// Write writes a season that was lived through as a line of JSON; ReadLived reads
// such lines.
func (l *Lived) Write(to io.Writer) error { return json.NewEncoder(to).Encode(l) }

// ReadLived reads what Write wrote.
func ReadLived(from io.Reader) (out []*Lived, err error) {
	for in := json.NewDecoder(from); ; {
		l := new(Lived)
		switch err := in.Decode(l); err {
		case nil:
			out = append(out, l)
		case io.EOF:
			return out, nil
		default:
			return nil, err
		}
	}
}

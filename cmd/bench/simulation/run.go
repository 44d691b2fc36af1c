package simulation

import (
	"context"
	"time"

	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver"
	"primaprova/solver/highs"
)

// Options says what is simulated. The zero value of a field has a default.
type Options struct {
	Tightnesses []float64 // shares of the room that the work asks for; 0.3, 0.45, 0.6, 0.8
	Seasons     int       // lived through for each tightness; 2
	Work        float64   // of each planning, as in solver.Options; 0.03
	Every       int       // days between two plannings; 2
	// Limit ends each planning early, the first one after five times as long; 1 s.
	// A player's own planning takes its time; here there are hundreds.
	Limit time.Duration
}

// Size gives the seasons that are lived through: ten weeks, four
// programmes, twelve parts.
func Size(seed uint64, tightness float64) invent.Size {
	return invent.Size{Weeks: 10, Programmes: 4, Parts: 3, Passages: 6, Lead: 32, Tightness: tightness, Irregular: true, Seed: seed}
}

// readyDays is the ready-by margin of these seasons, in place of the default of
// three: one check in twelve fails here, and a passage needs that long to be
// worked at and checked once more.
const readyDays = 6

// Row is what came of one way, over all seasons of one tightness.
type Row struct {
	Tightness      float64
	Way            string
	Parts          int
	Ready, Whole   int // parts ready, and parts with all of their visits, stale or not
	Worth, Missed  int
	Solved         int
	SecondsPlanned float64
}

// Share gives the share of parts ready at their first rehearsal.
func (r Row) Share() float64 { return float64(r.Ready) / float64(max(1, r.Parts)) }

// Run lives the seasons through in each way.
func Run(ctx context.Context, engine *highs.Library, o Options) ([]Row, error) {
	if o.Seasons == 0 {
		o.Seasons = 2
	}
	if o.Work == 0 {
		o.Work = 0.03
	}
	if o.Limit == 0 {
		o.Limit = time.Second
	}
	if o.Every == 0 {
		o.Every = 2
	}
	var rows []Row
	if o.Tightnesses == nil {
		o.Tightnesses = []float64{0.3, 0.45, 0.6, 0.8}
	}
	for _, tightness := range o.Tightnesses {
		var sums [3]Row
		for seed := range uint64(o.Seasons) {
			season := invent.Season(Size(seed+1, tightness))
			season.Habits.ReadyDays = readyDays
			limited, stop := context.WithTimeout(ctx, 5*o.Limit)
			first, err := solver.Solve(limited, season, solver.Options{Engine: engine, Work: o.Work})
			stop()
			if err != nil {
				return nil, err
			}
			ways := [3]way{&replanning{engine: engine, work: o.Work, limit: o.Limit, every: model.Date(o.Every)}, &blind{first}, dueFirst{}}
			for i, w := range ways {
				at := time.Now()
				got, err := (&life{world: Ordinary(seed + 1), season: season, way: w}).run(ctx)
				if err != nil {
					return nil, err
				}
				r := &sums[i]
				r.Tightness, r.Way = tightness, w.name()
				r.Parts, r.Ready = r.Parts+got.parts, r.Ready+got.ready
				r.Whole += got.whole
				r.Worth, r.Missed = r.Worth+got.worth, r.Missed+got.missed
				r.Solved, r.SecondsPlanned = r.Solved+got.solved, r.SecondsPlanned+time.Since(at).Seconds()
			}
		}
		rows = append(rows, sums[:]...)
	}
	return rows, nil
}

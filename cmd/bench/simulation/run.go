package simulation

import (
	"context"
	"slices"
	"time"

	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver"
	"primaprova/solver/highs"
)

// Options says what is simulated. The zero value of a field has a default.
type Options struct {
	Tightnesses []float64 // shares of the room that the work asks for; 0.3, 0.5, 0.7, 0.85
	First       uint64    // the first season's seed; 1
	Seasons     int       // lived through for each tightness; 8
	Work        float64   // of each planning, as in solver.Options; 0.03
	Motor       bool      // the second memory
	Ways        []string  // of Names, held against the first of them; urgent, again, blind, due
}

// Names gives the ways, as the package comment has them.
func Names() []string { return []string{"told", "whole", "urgent", "again", "blind", "due"} }

// Size gives the seasons that are lived through.
func Size(seed uint64, tightness float64) invent.Size {
	return invent.Size{Weeks: 10, Programmes: 4, Parts: 3, Passages: 6, Lead: 32, Tightness: tightness, Irregular: true, Seed: seed}
}

// Row is what came of one way, over all seasons of one tightness; the package
// comment says what it means.
type Row struct {
	Tightness      float64
	Way            string
	Parts, Ready   int
	Passages       int
	Untouched      int
	Holding        float64
	Worth, Missed  int
	Days, Over     int
	Heavy          float64 // minutes, all seasons together
	Solved         int
	Listed         int // days that went by a dispatch list
	SecondsPlanned float64
	Alone          int     // parts that would be ready with the season to themselves, done when due
	Known          int     // parts that a plan would place whole that knew all luck but the checks'; see readyKnown
	Against        *Paired // the first way against this one; nil for itself
}

// Paired sets the first of the ways against another, part by part and season by
// season, with the same luck.
type Paired struct {
	Won, Lost   int   // parts that only the first way gets ready, and only the other
	Differences []int // parts ready more by the first way, by season
}

// ByParts gives the two-sided p of won against lost. Parts of a season share
// their luck, so it is too small.
func (p *Paired) ByParts() float64 { return McNemar(p.Won, p.Lost) }

// BySeasons gives the two-sided p of the seasons' differences, the one to trust.
func (p *Paired) BySeasons() float64 { return SignFlips(p.Differences) }

func (p *Paired) add(first, other map[string]bool) {
	for part := range first {
		if !other[part] {
			p.Won++
		}
	}
	for part := range other {
		if !first[part] {
			p.Lost++
		}
	}
	p.Differences = append(p.Differences, len(first)-len(other))
}

// Share gives the share of parts ready at their first rehearsal.
func (r Row) Share() float64 { return float64(r.Ready) / float64(max(1, r.Parts)) }

// Holds gives the share of passages that hold at the first rehearsal.
func (r Row) Holds() float64 { return r.Holding / float64(max(1, r.Passages)) }

func (r *Row) add(o outcome, seconds float64) {
	r.Parts, r.Ready = r.Parts+o.parts, r.Ready+o.ready
	r.Passages, r.Untouched, r.Holding = r.Passages+o.passages, r.Untouched+o.untouched, r.Holding+o.holding
	r.Worth, r.Missed = r.Worth+o.worth, r.Missed+o.missed
	r.Days, r.Over, r.Heavy = r.Days+o.days, r.Over+o.over, r.Heavy+o.heavy
	r.Solved, r.Listed, r.SecondsPlanned = r.Solved+o.solved, r.Listed+o.listed, r.SecondsPlanned+seconds
}

// Run lives the seasons through in each way; without an engine plans are only fitted
// together. Work is counted, so the same options give the same rows on any machine,
// seconds apart.
func Run(ctx context.Context, engine *highs.Library, o Options) ([]Row, error) {
	if o.Tightnesses == nil {
		o.Tightnesses = []float64{0.3, 0.5, 0.7, 0.85}
	}
	if o.First == 0 {
		o.First = 1
	}
	if o.Seasons == 0 {
		o.Seasons = 8
	}
	if o.Work == 0 {
		o.Work = 0.03
	}
	if o.Ways == nil {
		o.Ways = []string{"urgent", "again", "blind", "due"}
	}
	asked := func(ways ...string) bool {
		return slices.ContainsFunc(o.Ways, func(w string) bool { return slices.Contains(ways, w) })
	}
	var rows []Row
	for _, tightness := range o.Tightnesses {
		sums, alone, known := make([]Row, len(o.Ways)), 0, 0
		for n := range uint64(o.Seasons) {
			seed := o.First + n
			world := Ordinary(seed, o.Motor)
			season := invent.Season(Size(seed, tightness))
			season.Habits = model.DefaultHabits()
			whole := *season
			whole.Habits.WholeParts = true
			var first, firstWhole *model.Plan
			var err error
			if asked("told", "urgent", "again", "blind") {
				if first, err = planned(ctx, season, o.options(engine)); err != nil {
					return nil, err
				}
			}
			if asked("whole") {
				if firstWhole, err = planned(ctx, &whole, o.options(engine)); err != nil {
					return nil, err
				}
			}
			again := replanning{engine: engine, work: o.Work, first: first}
			n, err := readyAlone(ctx, season, world)
			if err != nil {
				return nil, err
			}
			alone += n
			if first != nil && engine != nil {
				if n, err = readyKnown(ctx, engine, season, world, o.Work); err != nil {
					return nil, err
				}
				known += n
			}
			var best map[string]bool
			for i, name := range o.Ways {
				through, r := season, again
				var w way = &r
				switch name {
				case "told":
					r.urgent, r.told = true, true
				case "whole":
					through, r.first, r.whole = &whole, firstWhole, true
				case "urgent":
					r.urgent = true
				case "blind":
					w = &blind{first}
				case "due":
					w = dueFirst{}
				}
				at := time.Now()
				got, err := (&life{world: world, season: through, way: w}).run(ctx)
				if err != nil {
					return nil, err
				}
				sums[i].Tightness, sums[i].Way = tightness, w.name()
				sums[i].add(got, time.Since(at).Seconds())
				switch {
				case i == 0:
					best = got.stood
				default:
					if sums[i].Against == nil {
						sums[i].Against = &Paired{}
					}
					sums[i].Against.add(best, got.stood)
				}
			}
		}
		for i := range sums {
			sums[i].Alone, sums[i].Known = alone, known
		}
		rows = append(rows, sums...)
	}
	return rows, nil
}

// options gives those of a planning.
func (o *Options) options(engine *highs.Library) solver.Options {
	return solver.Options{Engine: engine, Tolerance: model.DefaultTolerance, Work: o.Work}
}

// readyAlone counts the parts of a season that stand ready when each has its days
// to itself, and does what is due as soon as it may. What it meets there it meets
// in company too, so that no way can be asked for more by much.
func readyAlone(ctx context.Context, s *model.Season, world World) (n int, err error) {
	for i := range s.Programmes {
		for j := range s.Programmes[i].Parts {
			one := *s
			one.Programmes = slices.Clone(s.Programmes)
			for k := range one.Programmes {
				one.Programmes[k].Parts = nil
			}
			one.Programmes[i].Parts = s.Programmes[i].Parts[j : j+1]
			got, err := (&life{world: world, season: &one, way: dueFirst{}}).run(ctx)
			if err != nil {
				return 0, err
			}
			n += got.ready
		}
	}
	return n, nil
}

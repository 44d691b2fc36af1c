// Package hours gives the sessions of each day their hours, by a constraint program of its own for each
// day and the wishes of model.DayCost.
package hours

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"sync"

	"primaprova/model"
	"primaprova/solver/cpsat"
)

// LayOutDays gives the sessions of a plan their hours, day by day, by the
// wishes of model.DayCost, and tells which days it changed. A plan's days have
// hours already, by first fit, and never get worse ones. Days before from stay
// as they are. Where a day holds what it held in the standing plan its hours
// stay; where it holds some of that, they stay as near as can be.
//
// Each day is solved alone by one worker within so much work (run.Params.HoursWork), some
// of them side by side, so that the same plan always gets the same hours. When
// the context ends the days not yet laid out keep first fit.
func LayOutDays(ctx context.Context, l *cpsat.Library, work float64, s *model.Season, p, standing *model.Plan, from model.Date) ([]model.Date, error) {
	if !s.HasHours() {
		return nil, nil
	}
	days := p.ByDate()
	var stood map[model.Date][]*model.Session
	chosen := false
	if standing != nil {
		stood = standing.ByDate()
		chosen = strings.HasSuffix(standing.Provenance.Engine, Clocked)
	}
	var todo []*day
	for d := max(from, s.From); d <= s.To; d++ {
		if len(days[d]) > 0 {
			todo = append(todo, &day{s: s, date: d, sessions: days[d], stood: stood[d], chosen: chosen, work: work})
		}
	}
	// Full days take longest. They go first, so that nobody waits for the last one.
	order := slices.Clone(todo)
	slices.SortStableFunc(order, func(a, b *day) int { return cmp.Compare(len(b.sessions), len(a.sessions)) })
	var wait sync.WaitGroup
	next := make(chan *day)
	for range min(runtime.GOMAXPROCS(0), 8) {
		wait.Go(func() {
			for d := range next {
				d.err = d.layOut(ctx, l)
			}
		})
	}
	for _, d := range order {
		next <- d
	}
	close(next)
	wait.Wait()
	var changed []model.Date
	var faults []error
	for _, d := range todo {
		if d.err != nil {
			faults = append(faults, fmt.Errorf("%v: %w", d.date, d.err))
		}
		if d.changed {
			changed = append(changed, d.date)
		}
	}
	s.PlanDays(p) // by the hours the day's sums have warming up again in them
	return changed, errors.Join(faults...)
}

// day is one day that is given hours.
type day struct {
	work     float64 // the engine may do
	s        *model.Season
	date     model.Date
	sessions []*model.Session
	stood    []*model.Session // in the standing plan
	chosen   bool             // better hours were looked for then, so that first fit that stood is a choice too
	rank     map[string]int   // by first fit, in which the most urgent visits come first
	proven   bool             // there are no better hours in which each session keeps its shape
	changed  bool
	err      error
}

// layOut gives the day better hours where there are any.
func (d *day) layOut(ctx context.Context, l *cpsat.Library) error {
	d.rank = map[string]int{}
	for i, v := range d.sessions {
		d.rank[v.ID] = i
	}
	if d.keep() {
		return nil
	}
	if ctx.Err() != nil {
		return nil
	}
	at := d.stoodAt()
	if len(at) > 0 {
		// Mostly everything can stay and only what is new looks for a place. What
		// comes of that is the best there is, unless it plays before a service:
		// letting go what could stay can only move it. Where the search was cut
		// short, the larger one would be as well.
		if err := d.solve(ctx, l, at, true); err != nil {
			return err
		}
		if c := d.cost(at); c != nil && c[model.Stays] == 0 && c[model.Before] == 0 && c[model.Whole] == 0 {
			return nil
		}
	}
	return d.solve(ctx, l, at, false)
}

// solve looks for better hours, with those that stood held fast or not.
func (d *day) solve(ctx context.Context, l *cpsat.Library, stood map[string]model.Clock, held bool) error {
	q := newDayModel(d.s, d.date, d.sessions, stood, held)
	d.proven = q == nil // some session fits nowhere in its shape
	if q == nil {
		return nil
	}
	work := d.work
	if held { // less is left to choose, and somebody waits
		work /= 2
	}
	r, err := l.Solve(ctx, q.m, cpsat.Params{Work: work, Relaxation: cpsat.NoRelaxation})
	if err != nil {
		return err
	}
	d.proven = r.Status == cpsat.Optimal || r.Status == cpsat.Infeasible
	if found, ok := r.Solution(); ok {
		d.take(q.starts(found), stood)
	}
	return nil
}

// take gives the sessions these starts, moved as early as goes, where that
// keeps the rules and is better than what they have.
func (d *day) take(starts []model.Clock, stood map[string]model.Clock) {
	before := clockOf(d.sessions)
	had := d.cost(stood)
	for i, v := range d.sessions {
		d.s.Place(v, starts[i])
	}
	sound := len(d.s.DayBreaches(d.date, d.sessions)) == 0
	if !sound || had != nil && !d.cost(stood).Less(*had) {
		d.proven = d.proven && sound && !had.Less(*d.cost(stood))
		before.restore()
		return
	}
	d.changed = true
	d.early(stood)
	d.together(stood)
	d.urgent(stood)
}

// cost judges the hours, nil where some session has none.
func (d *day) cost(stood map[string]model.Clock) *model.DayCost {
	for _, v := range d.sessions {
		if v.Start == nil {
			return nil
		}
	}
	c := d.s.DayCost(d.date, d.sessions, stood)
	return &c
}

// early moves sessions forward by the grid as long as nothing gets worse: hours
// that the wishes leave open shall not be left to chance.
func (d *day) early(stood map[string]model.Clock) {
	order := append([]*model.Session(nil), d.sessions...)
	for moved := true; moved; {
		moved = false
		sortByStart(order)
		for _, v := range order {
			for {
				had, start := d.cost(stood), *v.Start
				if start < dayGrid {
					break
				}
				d.s.Place(v, start-dayGrid)
				if len(d.s.DayBreaches(d.date, d.sessions)) > 0 || had.Less(*d.cost(stood)) {
					d.s.Place(v, start)
					break
				}
				moved = true
			}
		}
	}
}

// Clocked is added to the engine of a plan whose days were all given hours by
// CP-SAT, whether or not it found better ones.
const Clocked = ", CP-SAT"

// hours are what sessions have before something is tried with them.
type hours struct {
	sessions []*model.Session
	were     []model.Session
}

func clockOf(sessions []*model.Session) hours {
	h := hours{sessions: sessions}
	for _, v := range sessions {
		h.were = append(h.were, *v)
	}
	return h
}

func (h hours) restore() {
	for i, v := range h.sessions {
		*v = h.were[i]
	}
}

func sortByStart(sessions []*model.Session) {
	slices.SortStableFunc(sessions, func(a, b *model.Session) int {
		return cmp.Or(cmp.Compare(*a.Start, *b.Start), cmp.Compare(a.ID, b.ID))
	})
}

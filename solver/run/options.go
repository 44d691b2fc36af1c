// Package run is what a planning is told: its options, and its share of the ordinary work.
package run

import (
	"runtime"
	"slices"

	"primaprova/model"
	"primaprova/solver/cpsat"
	"primaprova/solver/highs"
)

// Options says how a season is planned. The zero value plans from nothing with
// the ordinary budget and no engine, which is an error: set Engine.
type Options struct {
	Engine *highs.Library // the linear programs' engine
	Days   *cpsat.Library // lays each day out in hours, and helps with small seasons; nil: first fit
	// LoadDays gives Days once there is a plan, which Best was told of: what is not loaded by then can't
	// take it along. It may give nil; nil: Days stays as it is.
	LoadDays func() *cpsat.Library
	// Tolerance is what of each wish may be spent on those after it; the zero value: nothing.
	Tolerance model.Tolerance
	Seed      int            // another seed, another plan of the same worth; 0 is a seed like any other
	Work      float64        // share of the ordinary budget of work; 0 means 1
	Gap       float64        // share of a wish by which it may lie above its bound and be near enough to spare what is left of the work; 0: none
	History   *model.History // what the record says; nil: nothing has happened
	Standing  *model.Plan    // the plan that stands, for closeness; nil: none
	Progress  func(Progress) // told what is going on, from the solving goroutine; nil: nobody
	// Best is given the best plan so far, audited, at the end of each step; nil: nobody. It is for
	// whoever must be prepared that Solve does not come back.
	Best   func(*model.Plan)
	Width  int         // sub-MIPs and pricing side by side; 0: as many as there are processors, at most MostWidth. No plan depends on it
	Trace  func(Event) // told what came of all that is tried, one event at a time; nil: nobody
	Params *Params     // nil: Tuned
}

// Replans tells whether a plan stands ahead, that the new one keeps close to: days gone by are part of
// any plan, and bind none.
func (o *Options) Replans() bool {
	return o.Standing != nil && slices.ContainsFunc(o.Standing.Sessions, func(v model.Session) bool {
		return o.History == nil || v.Date >= o.History.Today
	})
}

// Ample tells whether a planning gets a quarter of the ordinary work at least: with less, what takes a season's
// last per cents is left out.
func (o *Options) Ample() bool { return o.Work == 0 || o.Work >= 0.25 }

// Progress is what may be told while the solving goes on.
type Progress struct {
	Step  string     // what is being done, in the words of the manual
	Done  float64    // share of the work done, 0..1
	Score [5]float64 // of the plan so far, by wish, in their units
	Least [5]float64 // proven of such plans, likewise; 0: nothing is
}

// Hours gives CP-SAT, loaded at the first asking; nil where it is not to be had.
func (o *Options) Hours() *cpsat.Library {
	if o.Days == nil && o.LoadDays != nil {
		o.Days, o.LoadDays = o.LoadDays(), nil
	}
	return o.Days
}

// Scaled gives a share of an ordinary budget, at least 1.
func (o *Options) Scaled(n int) int {
	work := o.Work
	if work == 0 {
		work = 1
	}
	return max(1, int(work*float64(n)))
}

// Share gives a share of an ordinary amount of work.
func (o *Options) Share(n int64) int64 {
	if o.Work == 0 {
		return n
	}
	return max(1, int64(o.Work*float64(n)))
}

// MostWidth is how much is done side by side at most where nobody says otherwise.
const MostWidth = 8

// Cores is how much is done side by side.
func (o *Options) Cores() int {
	if o.Width > 0 {
		return o.Width
	}
	return min(runtime.GOMAXPROCS(0), MostWidth)
}

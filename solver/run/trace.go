package run

import (
	"sync"
	"time"
)

// An Event says what came of one thing that was tried while planning, or was proven. Seconds
// are told and never looked at: what is tried depends on counted work alone.
type Event struct {
	At         float64   `json:"at"`                   // seconds since planning began
	Phase      string    `json:"phase"`                // wishes, frames, perturb, dive, fill, repair, sweep, bound, compact, hours
	Operator   string    `json:"operator"`             // what was tried, a name of Operators
	Wish       string    `json:"wish,omitempty"`       // worked at, or bounded
	Tried      int       `json:"tried"`                // moves, parts, neighbourhoods, nodes, days
	Kept       int       `json:"kept"`                 // of those, what stayed
	Saved      float64   `json:"saved"`                // of what the operator minimises, in its own units
	Score      []float64 `json:"score,omitempty"`      // of the plan after it, in the units of the wishes
	Bound      float64   `json:"bound,omitempty"`      // proven, in the wish's unit
	Work       int64     `json:"work,omitempty"`       // of linear programs: iterations, each counted as many times as there are rows
	Iterations int64     `json:"iterations,omitempty"` // of integer programs
	Seconds    float64   `json:"seconds"`              // it took
	Processor  float64   `json:"processor,omitempty"`  // processor seconds of the whole process since planning began, on Unix
}

// Operators lists what events are of, in the order in which planning comes to them.
var Operators = []string{Anneal, Fix, Move, Perturb, Recombine, Dive, Fill, Passages, Strips, Bounding, Branching, Compact, Hours}

// The operators; solver's glossary says what each is.
const (
	Anneal    = "anneal"
	Fix       = "fix"
	Move      = "move"
	Perturb   = "perturb" // all of it, with the moves and recombinations inside
	Recombine = "recombine"
	Dive      = "dive"
	Fill      = "fill"
	Passages  = "passages" // a sub-MIP of whole passages
	Strips    = "strip"    // a sub-MIP of a strip of days
	Bounding  = "master"
	Branching = "tree"
	Compact   = "compact"
	Hours     = "cp-sat"
)

// Note gives an event to whoever traces, with the seconds since it began.
func (o *Options) Note(began time.Time, e Event) {
	if o.Trace != nil {
		e.Seconds = time.Since(began).Seconds()
		o.Trace(e)
	}
}

// NoteSaved notes an event of work that is kept as a whole where it saves anything.
func (o *Options) NoteSaved(began time.Time, e Event) {
	if e.Saved > 0 {
		e.Kept = 1
	}
	o.Note(began, e)
}

// Traced gives options whose events come one at a time, with the seconds since now.
func (o Options) Traced() Options {
	if trace := o.Trace; trace != nil {
		var one sync.Mutex
		at, spent := time.Now(), Processor()
		o.Trace = func(e Event) {
			one.Lock()
			defer one.Unlock()
			e.At, e.Processor = time.Since(at).Seconds(), Processor()-spent
			trace(e)
		}
	}
	return o
}

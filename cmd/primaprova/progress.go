package main

import (
	"fmt"
	"strings"
	"time"

	"primaprova/model"
	"primaprova/solver"
)

// progress is the one line that is renewed while a plan is made, on a terminal
// only.
type progress struct {
	say     *voice
	began   time.Time
	last    time.Time
	written bool
}

const renewed = 200 * time.Millisecond

func (v *voice) progress() *progress { return &progress{say: v, began: time.Now()} }

// tell takes what the solver says of itself.
func (p *progress) tell(s solver.Progress) {
	now := time.Now()
	if !p.say.live || now.Sub(p.last) < renewed {
		return
	}
	p.last, p.written = now, true
	text := []rune(progressLine(s, now.Sub(p.began)))
	if n := p.say.errWidth - 1; len(text) > n {
		text = text[:n]
	}
	fmt.Fprintf(p.say.err, "\r\x1b[K%s", string(text))
}

// end takes the line away.
func (p *progress) end() {
	if p.written {
		fmt.Fprint(p.say.err, "\r\x1b[K")
	}
}

// progressLine says how far it is, about how long it will take, and how good
// the plan is against what is proven.
func progressLine(s solver.Progress, took time.Duration) string {
	parts := []string{fmt.Sprintf("%3.0f %%", 100*s.Done)}
	if s.Done > 0.02 {
		left := time.Duration(float64(took) * (1 - s.Done) / s.Done).Round(time.Second)
		parts = append(parts, fmt.Sprintf("about %s left", left))
	}
	if s.Step != "" {
		parts = append(parts, s.Step)
	}
	for _, w := range s.Wishes {
		if w.Value != w.Bound && w.Name != model.Closeness.String() {
			parts = append(parts, fmt.Sprintf("%s %.0f, at best %.0f", w.Name, w.Value, w.Bound))
		}
	}
	return strings.Join(parts, "; ")
}

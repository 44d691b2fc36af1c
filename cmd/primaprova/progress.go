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
	limit   time.Duration // 0: none
	last    time.Time
	written bool
}

const (
	renewed  = 200 * time.Millisecond
	tellable = 0.02 // share of the work below which the time left is anyone's guess
)

func (v *voice) progress(limit time.Duration) *progress {
	return &progress{say: v, began: time.Now(), limit: limit}
}

// tell takes what the solver says of itself.
func (p *progress) tell(s solver.Progress) {
	now := time.Now()
	if !p.say.live || now.Sub(p.last) < renewed {
		return
	}
	p.last, p.written = now, true
	text := []rune(progressLine(s, now.Sub(p.began), p.limit))
	if n := p.say.errWidth - 1; len(text) > n {
		text = text[:n]
	}
	own(p.say.err, "\r\x1b[K")
	fmt.Fprint(p.say.err, string(text))
}

// end takes the line away.
func (p *progress) end() {
	if p.written {
		own(p.say.err, "\r\x1b[K")
	}
}

// progressLine says how far it is, about how long it will take, and how good
// the plan is against what is proven.
func progressLine(s solver.Progress, took, limit time.Duration) string {
	parts := []string{fmt.Sprintf("%3.0f %%", 100*s.Done)}
	left := time.Duration(-1)
	if s.Done > tellable {
		left = time.Duration(float64(took) * (1 - s.Done) / s.Done)
	}
	if limit > 0 && (left < 0 || limit-took < left) {
		left = max(0, limit-took)
	}
	if left >= 0 {
		parts = append(parts, fmt.Sprintf("about %s left", left.Round(time.Second)))
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

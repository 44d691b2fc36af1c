package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"time"
	"unicode/utf8"

	"primaprova/io/disk"
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
	own(p.say.err, "\r\x1b[K")
	fmt.Fprint(p.say.err, progressLine(s, now.Sub(p.began), p.limit, p.say.errWidth-1))
}

// end takes the line away.
func (p *progress) end() {
	if p.written {
		own(p.say.err, "\r\x1b[K")
	}
}

// progressLine says how far it is, about how long it will take, what is being
// done, and as far as there is room what the plan comes to and at least must.
func progressLine(s solver.Progress, took, limit time.Duration, width int) string {
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
	if words := stepWords[s.Step]; words != "" {
		parts = append(parts, words)
	}
	for _, w := range model.Wishes {
		if v, least := s.Score[w], s.Least[w]; v > 0 {
			part := fmt.Sprintf("%s %.0f", w, v)
			if least > 0 {
				part += fmt.Sprintf(" (least %.0f)", least)
			}
			parts = append(parts, part)
		}
	}
	for len(parts) > 1 && utf8.RuneCountInString(strings.Join(parts, "; ")) > width {
		parts = parts[:len(parts)-1]
	}
	return strings.Join(parts, "; ")
}

// stepWords says in a player's words what the solver is at.
var stepWords = map[string]string{
	model.Coverage.String():  "placing what is asked for",
	model.ReadyBy.String():   "getting parts ready by their dates",
	model.Closeness.String(): "keeping to the plan that stood",
	model.Body.String():      "evening out days and weeks",
	model.Spacing.String():   "spreading the visits",
	"frames":                 "finding when to read each part",
	"dive":                   "placing the visits",
	"windows":                "going over it, some weeks at a time",
	"whole":                  "looking for the best of all plans",
	"the hours of each day":  "choosing the hours of each day",
}

// working says that something takes a while: on a terminal a line that the
// function given takes away again, elsewhere a line of its own.
func (v *voice) working(what string) (done func()) {
	if !v.live {
		v.aside("%s …", what)
		return func() {}
	}
	fmt.Fprintf(v.err, "\r\x1b[K%s …", what)
	return func() { fmt.Fprint(v.err, "\r\x1b[K") }
}

// tracing gathers what the solver tells while it plans, one JSON object a line.
type tracing struct {
	file string // empty: nobody asked
	out  bytes.Buffer
	err  error
}

// tell gives the function that the solver calls; nil where nobody asked.
func (t *tracing) tell() func(solver.Event) {
	if t.file == "" {
		return nil
	}
	lines := json.NewEncoder(&t.out)
	return func(e solver.Event) {
		if t.err == nil {
			t.err = lines.Encode(e)
		}
	}
}

// write writes the file, whole.
func (t *tracing) write() error {
	if t.file == "" || t.err != nil {
		return t.err
	}
	return disk.Write(t.file, t.out.Bytes(), 0o666)
}

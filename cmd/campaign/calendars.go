package main

import (
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
)

// read is the season that reads a calendar: the small one of the tests, in hours.
const read = `title: Three weeks at Brinemouth
time_zone: Europe/Oslo
hours: {every day: [09:00-13:00, 14:00-20:00]}
busy: [{file: x.ics, whole_days: busy}]
from: 2027-03-01
to: 2027-03-21
limits: {playing: 60 min}
programmes:
  - id: lantern
    services: [{rehearsal: 2027-03-19 10:00, lasts: 150 min}]
    parts: [{id: harbour, arrives: 2027-03-01, listening: 20 min, read_through: 20 min, passages: [{bars: 12-28}]}]
`

// The most that a calendar of up to four megabytes may take.
const (
	mostSeconds = 2.0
	mostMemory  = 64.0
)

func (c *campaign) check(text, name string, w *worst) (ran, error) {
	dir, err := folder(map[string]string{"season.yaml": read, "x.ics": text})
	if err != nil {
		return ran{}, err
	}
	defer os.RemoveAll(dir)
	r, err := c.run(dir, "2027-03-01", "check")
	if err != nil {
		return r, c.kept(dir, name, err)
	}
	w.add(r)
	switch {
	case r.code != 0 && r.code != 2:
		return r, c.kept(dir, name, fmt.Errorf("exit code %d: %.200s", r.code, r.said))
	case r.seconds > mostSeconds || r.memory > mostMemory:
		return r, c.kept(dir, name, fmt.Errorf("%.2f s, %.0f MB", r.seconds, r.memory))
	}
	return r, nil
}

// honest reads a calendar as real exporters write them; none may be refused.
func (c *campaign) honest(seed uint64, w *worst) error {
	r := rand.New(rand.NewPCG(seed, 7))
	text := honestCalendar(r)
	name := fmt.Sprintf("honest-%d", seed)
	got, err := c.check(text, name, w)
	if err == nil && got.code != 0 {
		if err := os.MkdirAll(c.keep, 0o755); err != nil {
			return err
		}
		_ = os.WriteFile(c.keep+"/"+name+".ics", []byte(text), 0o600)
		return fmt.Errorf("refused: %.300s", got.said)
	}
	return err
}

// hostile reads a calendar made to keep the reader busy. It may be refused, and
// may not take long.
func (c *campaign) hostile(seed uint64, w *worst) error {
	r := rand.New(rand.NewPCG(seed, 8))
	_, err := c.check(hostileCalendar(r), fmt.Sprintf("hostile-%d", seed), w)
	return err
}

// pick gives one of some words.
func pick(r *rand.Rand, words ...string) string { return words[r.IntN(len(words))] }

// list gives some numbers from low to high, with commas between, often the same
// ones again.
func list(r *rand.Rand, n, low, high int) string {
	out := make([]string, n)
	for i := range out {
		out[i] = fmt.Sprint(low + r.IntN(high-low+1))
	}
	return strings.Join(out, ",")
}

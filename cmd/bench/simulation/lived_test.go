package simulation

import (
	"compress/gzip"
	"context"
	"os"
	"reflect"
	"testing"
)

// lives are seasons that were lived through and really planned again, in both
// worlds:
//
//	for w in words motor; do go run ./cmd/bench lives -world $w -first 102 -lives 4 -loads 0.5,0.7 -work 0.01 -every 14; done | gzip -9n >cmd/bench/simulation/testdata/lives.jsonl.gz
const lives = "testdata/lives.jsonl.gz"

// TestChancesComeTrue holds the chances that model/chance gives against those
// seasons. They are few, and the parts of one meet the same luck; what was
// measured on more stands in docs/tried.md.
func TestChancesComeTrue(t *testing.T) {
	file, err := os.Open(lives)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	raw, err := gzip.NewReader(file)
	if err != nil {
		t.Fatal(err)
	}
	all, err := ReadLived(raw)
	if err != nil {
		t.Fatal(err)
	}
	type sum struct{ parts, given, came float64 }
	var whole, nearly, worked sum // all, those given 70 to 90 %, and what was worked at
	for _, l := range all {
		for _, g := range l.Chances(100) {
			if g.LeftOut > 0 {
				continue // the chance is that of the rest
			}
			add := func(s *sum, given float64, came bool) {
				s.parts++
				s.given += given
				if came {
					s.came++
				}
			}
			add(&whole, g.Ready, g.Stood)
			add(&worked, g.Worked, g.Reached)
			if g.Ready >= 0.7 && g.Ready < 0.9 {
				add(&nearly, g.Ready, g.Stood)
			}
		}
	}
	for _, c := range []struct {
		name   string
		s      sum
		least  float64
		within float64
	}{{"ready", whole, 300, 0.1}, {"given 70 to 90 %", nearly, 50, 0.12}, {"worked at", worked, 300, 0.05}} {
		given, came := c.s.given/max(1, c.s.parts), c.s.came/max(1, c.s.parts)
		t.Logf("%s: %.0f parts, given %.3f, came true %.3f", c.name, c.s.parts, given, came)
		if c.s.parts < c.least || came < given-c.within || came > given+c.within {
			t.Errorf("%s: %.0f parts, given %.3f, came true %.3f", c.name, c.s.parts, given, came)
		}
	}
}

// What is written is read again, and gives the same chances.
func TestLivedIsRead(t *testing.T) {
	l, err := Live(context.Background(), nil, 101, 0.5, true, 0, 14)
	if err != nil {
		t.Fatal(err)
	}
	in, out, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	go func() {
		l.Write(out)
		out.Close()
	}()
	again, err := ReadLived(in)
	if err != nil || len(again) != 1 {
		t.Fatal(err, len(again))
	}
	a, b := l.Chances(10), again[0].Chances(10)
	for i := range b {
		b[i].Of = l
	}
	if len(a) == 0 || !reflect.DeepEqual(a, b) {
		t.Error("read again, a season gives other chances")
	}
}

package main

import (
	"testing"

	"primaprova/io/seasonfile"
)

// Programmes of the demo that share a week are told apart by their tones, whichever cones
// an eye has: the least distance, CIEDE2000, is what docs/tried.md says.
func TestTonesOfTheDemo(t *testing.T) {
	const least = 14
	f, err := seasonfile.Read("../../testdata/seasons/demo/season.yaml")
	if err != nil {
		t.Fatal(err)
	}
	s, found, pairs := f.Season, 100, 0
	looks := s.Looks()
	for i := range s.Programmes {
		for j := range i {
			a, b := s.Programmes[i].Weeks(), s.Programmes[j].Weeks()
			if a.From > b.To || b.From > a.To {
				continue
			}
			pairs++
			found = min(found, looks[i].Tone.Apart(looks[j].Tone))
		}
	}
	if t.Logf("%d pairs of programmes share a week", pairs); pairs < 12 || found != least {
		t.Errorf("%d pairs share a week, and differ by %d at least, not %d", pairs, found, least)
	}
}

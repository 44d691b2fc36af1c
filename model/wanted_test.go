package model

import "testing"

// What is wanted knows its passage and visit as a session, and as one that is left out;
// a stage has neither.
func TestWantedOnADay(t *testing.T) {
	s, _ := fixture()
	stages, visits := 0, 0
	for _, w := range s.Wanted(nil) {
		on, out := w.On(s.From), w.LeftOut()
		if on.ID != w.ID || out.ID != w.ID || on.Date != s.From || on.Minutes != w.Minutes || out.Minutes != w.Minutes {
			t.Errorf("%+v is %+v, left out %+v", w, on, out)
		}
		if w.Stage != PassageStage {
			stages++
			if on.Passage != nil || on.Visit != nil || on.Visits != nil || out.Passage != nil || out.Visit != nil {
				t.Errorf("%s has a passage or a visit", w.ID)
			}
			continue
		}
		visits++
		if *on.Passage != w.Passage || *on.Visit != w.Visit || *on.Visits != w.Visits || *out.Passage != w.Passage || *out.Visit != w.Visit {
			t.Errorf("%+v is %+v, left out %+v", w, on, out)
		}
	}
	if stages == 0 || visits == 0 {
		t.Errorf("%d stages, %d visits", stages, visits)
	}
}

// A tempo is one that a metronome has.
func TestTempoOfAnEntry(t *testing.T) {
	scale := Metronome()
	for tempo, good := range map[Tempo]bool{scale[0] - 1: false, scale[0]: true, scale[len(scale)-1]: true, scale[len(scale)-1] + 1: false} {
		e := Event{Entry: 1, Date: 1, Kind: Done, Session: "tide/slate/45-61/visit-1", Tempo: tempo}
		if faults := e.Check(); good != (len(faults) == 0) {
			t.Errorf("%d: %v", tempo, faults)
		}
	}
}

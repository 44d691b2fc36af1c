package model

import (
	"fmt"
	"strings"
)

// pinnable is what a pin needs to know of a session.
type pinnable struct {
	days    Range
	playing bool
}

// noteWindows notes where a sound part's sessions may be pinned.
func (v *validator) noteWindows(w *PartWork) {
	for _, x := range w.Sittings {
		v.windows[x.ID] = pinnable{w.Window, false}
	}
	v.windows[StageID(w.Name, ReadStage)] = pinnable{w.Window, true}
	if w.Part.Recordings > 0 {
		v.windows[StageID(w.Name, RecordingsStage)] = pinnable{w.RecordingDays(&v.s.Habits), false}
	}
	for i := range w.Passages {
		p := &w.Passages[i]
		for k := range p.Recipe {
			v.windows[VisitID(p.Name, k+1)] = pinnable{w.VisitDays(p), true}
		}
	}
}

func (v *validator) pins() {
	seen := map[string]Date{}
	for i, pin := range v.s.Pins {
		path := fmt.Sprintf("pins[%d]", i)
		if before, twice := seen[pin.Session]; twice && before != pin.Date {
			v.fault(path+".session", pin.Session, "one of the two days", "the session is pinned to %v as well", before)
			continue
		}
		seen[pin.Session] = pin.Date
		if pin.Session == "" {
			v.fault(path+".session", "", "a session like tide/slate/45-61/visit-2", "the pin names no session")
			continue
		}
		if at, ok := v.windows[pin.Session]; ok {
			v.pin(path, pin, at)
		} else if !v.unnamed {
			v.unknownPin(path, pin)
		}
	}
}

func (v *validator) pin(path string, pin Pin, at pinnable) {
	l := &v.s.Limits
	switch {
	case !at.days.Holds(pin.Date):
		v.fault(path+".date", pin.Date, fmt.Sprintf("a day of %v", at.days), "the session can't be on this day, its window is %v", at.days)
	case l.OffOn(pin.Date):
		v.warn(path+".date", pin.Date, "another day", "this is a day off: the session will be left out")
	case at.playing && l.RestOn(pin.Date):
		v.warn(path+".date", pin.Date, "another day", "this is a rest day: the session will be left out")
	case strings.HasSuffix(pin.Session, "/visit-1") && !v.s.RoomOn(pin.Date).New:
		v.warn(path+".date", pin.Date, "another day", "a first visit on the day of a concert: the session will be left out")
	}
}

// unknownPin reports a pin whose session the season does not have. The record
// may know passages and visits that the season file doesn't, so inside a known
// part it is a warning only.
func (v *validator) unknownPin(path string, pin Pin) {
	const advice = "primaprova show week --ids lists the sessions with their ids"
	for _, name := range v.broken {
		if strings.HasPrefix(pin.Session, name+"/") {
			return // the part's own fault comes first
		}
	}
	for i := range v.s.Programmes {
		p := &v.s.Programmes[i]
		for j := range p.Parts {
			if strings.HasPrefix(pin.Session, PartName(p.ID, p.Parts[j].ID)+"/") && strings.Contains(pin.Session, "/visit-") {
				v.warn(path+".session", pin.Session, advice, "the season has no such session; only the record may")
				return
			}
		}
	}
	v.fault(path+".session", pin.Session, advice, "the season has no such session")
}

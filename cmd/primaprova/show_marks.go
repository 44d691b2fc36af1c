package main

import (
	"fmt"
	"strings"

	"primaprova/model"
)

// marked says what services and time off make of a day, "" where they make
// nothing of it.
func (w *view) marked(d model.Date) string {
	l, r := &w.Season.Limits, w.Season.RoomOn(d)
	var out []string
	if r.Off {
		return ""
	}
	if r.Marks.Has(model.OnTour) {
		out = append(out, "On tour: listening alone is planned.")
	}
	if r.Marks.Has(model.BeforeConcert) && l.BeforeConcert < 100 && !r.Rest {
		out = append(out, fmt.Sprintf("A concert tomorrow: the cap is %d %% of an ordinary one.", l.BeforeConcert))
	}
	if r.Marks.Has(model.ConcertDay) && !r.New && !r.Rest {
		out = append(out, "A concert today: no passage for the first time.")
	}
	if r.Marks.Has(model.TwoServices) && !r.Rest {
		if r.Beside == 0 {
			out = append(out, "Two services: nothing to be played beside them.")
		} else {
			out = append(out, fmt.Sprintf("Two services: %s of practice at most.", r.Beside))
		}
	}
	switch pain, light := w.Season.PainBefore(d), r.Marks.Has(model.LightDay); {
	case light && r.Beside == 0:
		out = append(out, fmt.Sprintf("Light after pain on %s: no practice.", w.say.day(pain)))
	case light:
		out = append(out, fmt.Sprintf("Light after pain on %s: at most %s of practice.", w.say.day(pain), r.Beside))
	case r.Marks.Has(model.AfterTimeOff):
		out = append(out, "On the way back after time off, illness or pain: playing comes back step by step.")
	}
	return strings.Join(out, " ")
}

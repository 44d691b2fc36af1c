package main

import (
	"fmt"

	"primaprova/model"
)

// The lines at the foot of a day sheet are common practice among orchestral
// players, no source. Rests: British Association for Performing Arts Medicine,
// health tips (a five-minute break every half-hour); the figures said are the
// season's own.

const (
	longVisit = 15 // minutes from which a visit is better worked at in sections

	onPain = "Pain, numbness or tingling: stop. If it stays or comes back, see a physician or physiotherapist."
)

// mind says what matters on a day, and no more than that.
func (w *view) mind(on model.Date) []string {
	var listening, recordings, warm, reading, exposed, check, long, passages int
	for _, s := range w.days[on] {
		switch s.Stage {
		case model.ListeningStage:
			listening++
		case model.RecordingsStage:
			recordings++
		case model.WarmUpStage:
			warm++
		case model.ReadStage:
			reading++
		case model.PassageStage:
			passages++
			if s.Minutes > longVisit {
				long++
			}
			if s.Visit != nil && s.Visits != nil && *s.Visit == *s.Visits && *s.Visits > 1 {
				check++
			}
			if p := w.passages[*s.Passage]; p != nil && p.Passage.Exposed {
				exposed++
			}
		}
	}
	var out []string
	say := func(when bool, text string) {
		if when {
			out = append(out, text)
		}
	}
	say(listening > 0, "Listen first, the instrument in its case. Mark tempos and exposed places.")
	say(recordings > 0, "Recordings: hear it through once more with the part in hand.")
	say(warm > 0, "Warm-up: short, easy, under tempo.")
	say(reading > 0, "Read-through: at tempo, no stops. Mark what fails.")
	say(exposed > 0, "Exposed bars get their visit even when they go well.")
	say(long > 0, "A long passage goes in sections.")
	say(passages > 1, "When the minutes are up, go on: the next place counts as much as the hardest.")
	say(check > 0, "Check visit (a passage's last): once at tempo before any work. Learning it anew two or three times is usual.")
	say(passages > 0, "Marks stay in the part, also once a passage works.")
	if warm+reading+passages > 0 {
		l := &w.season.Limits
		say(l.Block > 0, fmt.Sprintf("Rest %s after %s of playing at most. Move, and let the muscles go.", l.BlockRest, l.Block))
		say(true, onPain)
	}
	return out
}

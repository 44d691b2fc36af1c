package main

import (
	"fmt"

	"primaprova/model"
)

// sayNoise says the exposure of a week beside the values of the directive;
// nothing where no service has a level.
func (w *view) sayNoise(n *model.Noise) {
	if n == nil {
		return
	}
	w.say.line("Noise in services: %s.", w.exposure(n))
	w.sayNoiseValues()
}

// exposure writes the loudest day and the week, and how many services they leave
// out.
func (w *view) exposure(n *model.Noise) string {
	day := n.Loudest()
	text := decibels(day.Daily, "over eight hours on "+w.say.day(day.Date)) + ", " + decibels(n.Weekly, "over the week")
	if n.Unknown > 0 {
		text += fmt.Sprintf("; %d of %s without a level", n.Unknown, several(n.Services, "service", "services"))
	}
	return text
}

// sayLoudest says the exposure of the week that has the most.
func (w *view) sayLoudest(weeks []weekLoad) {
	var loudest *weekLoad
	for i := range weeks {
		if n := weeks[i].Noise; n != nil && (loudest == nil || n.Weekly > loudest.Noise.Weekly) {
			loudest = &weeks[i]
		}
	}
	if loudest != nil {
		w.say.line("Noise in services, the loudest week %s: %s.", loudest.Week, w.exposure(loudest.Noise))
		w.sayNoiseValues()
	}
}

func (w *view) sayNoiseValues() {
	w.say.line("Directive 2003/10/EC acts at %d and %d dB(A) and limits at %d, as averages over eight hours. %s",
		model.NoiseLowerAction, model.NoiseUpperAction, model.NoiseLimit, model.NoiseGuidance)
}

// decibels writes "86.4 dB(A) over the week (at or above the upper action value)".
func decibels(level float64, over string) string {
	text := fmt.Sprintf("%.1f dB(A) %s", level, over)
	if value := model.NoiseValue(level); value != "" {
		text += " (" + value + ")"
	}
	return text
}

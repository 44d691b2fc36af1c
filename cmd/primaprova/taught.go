package main

import (
	"fmt"
	"strings"
)

// What the record teaches of estimates changes no plan until the player has said so:
// in a line after planning, with the command that does it, and at a terminal in a
// question after recording. Either is said as long as the setting learn says nothing.

// taught says in a sentence what planning with what was learnt would do; empty where the
// player has said yes or no, or the record is not sure.
func (a *app) taught(h *happened) string {
	if a.set.source("learn") != "default" {
		return ""
	}
	planned, learnt, sure := h.season.Taught(h.history)
	if !sure {
		return ""
	}
	by, how := learnt-planned, "longer"
	if by < 0 {
		by, how = -by, "shorter"
	}
	return fmt.Sprintf("By your record what lies ahead takes %s %s than the %s that are planned for it", by.Hours(), how, planned.Hours())
}

// sayTaught says after planning what the record teaches.
func (a *app) sayTaught(h *happened) {
	if said := a.taught(h); said != "" {
		a.say.aside("%s (check shows it; settings --learn no --save ends this line).", said)
		a.say.next("settings --learn yes --save")
	}
}

// askTaught asks after recording, once: the answer is kept.
func (b *book) askTaught() error {
	a := b.a
	if !a.attended() || a.set.source("learn") != "default" {
		return nil
	}
	h, err := a.happened(b.f, b.plan) // with what was recorded just now
	if err != nil {
		return err
	}
	said := a.taught(h)
	if said == "" {
		return nil
	}
	yes := ""
	err = a.ask(said+". Plan with what it takes from now on, yes or no", "yes", func(answer string) error {
		yes = strings.ToLower(answer)
		if err := oneOf("yes", "no")(yes); err != nil {
			return fmt.Errorf("%q %w", answer, err)
		}
		return nil
	})
	if err != nil {
		return nil // no answer: what was recorded stands, and it is asked another time
	}
	return a.keepSettings(map[string]string{"learn": yes})
}

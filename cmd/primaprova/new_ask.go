package main

import (
	"errors"
	"fmt"
	"os"
	"strings"

	"primaprova/io/seasonfile"
	"primaprova/model"
)

// askAll asks for what no flag says: five things, of which a table knows two.
func (a *app) askAll(n *beginning) error {
	s := &n.start
	days := func(answer string) error {
		r, err := a.saidDays(strings.Replace(answer, " to ", "..", 1), a.dayIn(s.TimeZone))
		if err != nil || r.To == r.From {
			return errors.New("the first and the last day, like 11.1.2027 to 21.3.2027")
		}
		s.From, s.To = r.From, r.To
		return nil
	}
	text := func(to *string) func(string) error {
		return func(answer string) error { *to = answer; return nil }
	}
	monday := a.nextMonday(s.TimeZone)
	for _, q := range []struct {
		when                bool
		question, otherwise string
		take                func(string) error
	}{
		{s.Title == "", "Title", "My season", text(&s.Title)},
		{s.Instrument == "" && n.after == "", "Instrument", "double bass", text(&s.Instrument)},
		{s.RestDays == "" && n.after == "", "Weekdays without playing", "monday", restDays(&s.RestDays)},
		{len(n.tables) == 0 && !s.Bare, "Programmes: a table (CSV file), none yet, or an example", "example", func(answer string) error {
			switch _, err := os.Stat(answer); {
			case answer == "example":
			case strings.HasPrefix("none yet", answer):
				s.Bare = true
			case err != nil:
				return fmt.Errorf("%s: %v", answer, reason(err))
			default:
				n.tables = []string{answer}
			}
			return nil
		}},
	} {
		if q.when {
			if err := a.ask(q.question, q.otherwise, q.take); err != nil {
				return err
			}
		}
	}
	if len(n.tables) > 0 || s.From != 0 {
		return nil
	}
	return a.ask("First and last day", model.Range{From: monday, To: monday + 7*12 - 1}.String(), days)
}

// restDays takes weekdays as they are said, or none.
func restDays(to *string) func(string) error {
	return func(answer string) error {
		var out []string
		for _, w := range words(answer) {
			if w == "none" {
				continue
			}
			d, err := seasonfile.Weekday(w)
			if err != nil {
				return err
			}
			out = append(out, strings.ToLower(d.String()))
		}
		*to = strings.Join(out, ", ") + " " // none is not what is not said
		return nil
	}
}

// strokes gives the order of dates with strokes, where the setting says it.
func (a *app) strokes() string {
	if a.set.source("dates") == "default" {
		return ""
	}
	return map[string]string{"day-month": "day/month/year", "month-day": "month/day/year"}[a.set.get("dates")]
}

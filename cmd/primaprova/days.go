package main

import (
	"fmt"
	"strconv"
	"strings"

	"primaprova/model"
)

// saidDay reads a day of the command line: a date as people write it, or today,
// yesterday, tomorrow, or so many days from today, like +3 and -1.
func (a *app) saidDay(s string, today model.Date) (model.Date, error) {
	switch word := strings.ToLower(strings.TrimSpace(s)); word {
	case "today":
		return today, nil
	case "yesterday":
		return today - 1, nil
	case "tomorrow":
		return today + 1, nil
	default:
		if n, err := strconv.Atoi(word); err == nil && (word[0] == '+' || word[0] == '-') && n > -mostDaysAway && n < mostDaysAway {
			return today + model.Date(n), nil
		}
	}
	return a.saidDate(s)
}

const mostDaysAway = 10_000 // no season is as long

// saidDays reads a day, or a run of them: yesterday..tomorrow.
func (a *app) saidDays(s string, today model.Date) (model.Range, error) {
	from, to, two := strings.Cut(s, "..")
	first, err := a.saidDay(from, today)
	if err != nil || !two {
		return model.Range{From: first, To: first}, err
	}
	last, err := a.saidDay(to, today)
	if err != nil {
		return model.Range{}, err
	}
	if last < first {
		return model.Range{}, fmt.Errorf("%q ends before it begins", s)
	}
	return model.Range{From: first, To: last}, nil
}

// saidDate reads a date, with strokes in the order of the setting dates where the
// player has set it: 3/4/2027 is in April for some and in March for others.
func (a *app) saidDate(s string) (model.Date, error) {
	d, err := model.SaidDate(s)
	if err == nil || a.set == nil || a.strokes() == "" {
		return d, err
	}
	p := strings.Split(s, "/")
	if len(p) == 3 && a.strokes() == "month/day/year" {
		p[0], p[1] = p[1], p[0]
	}
	if again, wrong := model.SaidDate(strings.Join(p, ".")); len(p) == 3 && wrong == nil {
		return again, nil
	}
	return d, err
}

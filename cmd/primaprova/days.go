package main

import (
	"fmt"
	"strconv"
	"strings"

	"primaprova/model"
)

// saidDay reads a day of the command line: a date as people write it, or today,
// yesterday, tomorrow, or so many days from today, like +3 and -1.
func saidDay(s string, today model.Date) (model.Date, error) {
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
	return model.SaidDate(s)
}

const mostDaysAway = 10_000 // no season is as long

// saidDays reads a day, or a run of them: yesterday..tomorrow.
func saidDays(s string, today model.Date) (model.Range, error) {
	from, to, two := strings.Cut(s, "..")
	a, err := saidDay(from, today)
	if err != nil || !two {
		return model.Range{From: a, To: a}, err
	}
	b, err := saidDay(to, today)
	if err != nil {
		return model.Range{}, err
	}
	if b < a {
		return model.Range{}, fmt.Errorf("%q ends before it begins", s)
	}
	return model.Range{From: a, To: b}, nil
}

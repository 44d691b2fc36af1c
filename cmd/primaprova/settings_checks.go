package main

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"golang.org/x/image/colornames"

	"primaprova/model"
)

// What values settings take.

func tolerance(s string) error {
	if _, err := model.ParseTolerance(s); err != nil {
		return err
	}
	return nil
}

func number(low, high int) func(string) error {
	return func(s string) error {
		if n, err := strconv.Atoi(s); err != nil || n < low || n > high {
			return fmt.Errorf("is not a whole number from %d to %d", low, high)
		}
		return nil
	}
}

// colourName takes the names of CSS, which iCalendar has its colours by (RFC 7986, 5.9).
func colourName(s string) error {
	if s == "" || s == "programmes" || s == "none" {
		return nil
	}
	if _, ok := colornames.Map[strings.ToLower(s)]; !ok {
		return errors.New("is no colour's name of CSS, like steelblue")
	}
	return nil
}

func dateOrNone(s string) error {
	if s == "" {
		return nil
	}
	if _, err := model.SaidDate(s); err != nil {
		return errors.New("is not a date like 2027-01-31")
	}
	return nil
}

func length(s string) error {
	if d, err := time.ParseDuration(s); err != nil || d < 0 {
		return errors.New("is not a length of time like 90s or 5m")
	}
	return nil
}

func clockTime(s string) error {
	if _, err := model.SaidClock(s); err != nil {
		return errors.New("is not a time like 08:00")
	}
	return nil
}

func noneOr(check func(string) error) func(string) error {
	return func(s string) error {
		if s == "none" {
			return nil
		}
		return check(s)
	}
}

func oneOf(words ...string) func(string) error {
	return func(s string) error {
		if !slices.Contains(words, s) {
			return errors.New("is none of " + strings.Join(words, ", "))
		}
		return nil
	}
}

// The checks in known have passed before anything below is called.

func (s *settings) number(name string) int {
	n, _ := strconv.Atoi(s.get(name))
	return n
}

func (s *settings) tolerance() model.Tolerance {
	t, _ := model.ParseTolerance(s.get("tolerance"))
	return t
}

package main

import (
	"testing"
	"time"

	"primaprova/model"
)

func TestDaysOfTheCommandLine(t *testing.T) {
	a := &app{}
	today := model.NewDate(2027, time.January, 14)
	for s, want := range map[string]model.Range{
		"today":                  {From: today, To: today},
		"Tomorrow":               {From: today + 1, To: today + 1},
		"yesterday":              {From: today - 1, To: today - 1},
		"+3":                     {From: today + 3, To: today + 3},
		"-2":                     {From: today - 2, To: today - 2},
		"16.01.2027":             {From: today + 2, To: today + 2},
		"yesterday..today":       {From: today - 1, To: today},
		"2027-01-10..2027-01-16": {From: today - 4, To: today + 2},
		"10.01.2027..tomorrow":   {From: today - 4, To: today + 1},
	} {
		if r, err := a.saidDays(s, today); err != nil || r != want {
			t.Errorf("%q: %v, %v", s, r, err)
		}
	}
	for _, s := range []string{"", "soon", "3", "+", "tomorrow..today", "today..", "+99999"} {
		if r, err := a.saidDays(s, today); err == nil {
			t.Errorf("%q is taken as %v", s, r)
		}
	}
}

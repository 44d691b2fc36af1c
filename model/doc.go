// Package model holds the season as a player sees it: programmes and their
// services, works and parts, passages and their recipes, the limits of a day,
// the record of what happened, and the plan. It says what a valid season is
// (validate), which rules a plan must keep (rules) and how far a plan is from
// what one would wish (wishes), and it audits any plan against any season
// without a solver.
//
// It imports the standard library only. What reads or writes an outside format
// lives in io/…; what chooses days lives in solver.
//
// # Days
//
// A Date is a civil day without a clock. A Range holds both its ends. A part's
// window runs from the day it arrives to the day before the date that it is read
// for, its first rehearsal or, where it comes too late for that, the next of its
// dates; its passages are due at that date or a later one, at the last at the last
// concert (due.go). Wherever the word deadline is used it is the first day that is
// too late.
//
// # Minutes
//
// A day's cap counts playing minutes only: services' playing, warm-up, and
// planned playing. Listening has a limit of its own.
package model

// Package planfile reads and writes the plan beside a season file: JSON, one
// session a line, so that two plans can be compared with the tools at hand.
//
// It says whether a file is a plan, not whether the plan is a good one: the
// judgement is model's Audit. Nothing here knows of solving or of calendars.
package planfile

import "primaprova/io/disk"

// Fault is one thing wrong in a file; Error is all of them.
type (
	Fault = disk.Fault
	Error = disk.Faults
)

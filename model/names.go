package model

import "fmt"

// Session ids are made of what the session is, never of its day, so that they
// stay when it moves: programme/part/listening, …/read-through,
// …/recordings, programme/part/passage/visit-2. A warm-up belongs to its day:
// warm-up/2027-01-14.

// PartName gives programme/part.
func PartName(programme, part string) string { return programme + "/" + part }

// PassageName gives programme/part/passage.
func PassageName(part, passage string) string { return part + "/" + passage }

// StageID gives the id of a part's listening, read-through or recordings.
func StageID(part string, stage Stage) string { return part + "/" + string(stage) }

// VisitID gives the id of a passage's visit, counted from 1.
func VisitID(passage string, visit int) string { return fmt.Sprintf("%s/visit-%d", passage, visit) }

// WarmUpID gives the id of a day's warm-up.
func WarmUpID(d Date) string { return string(WarmUpStage) + "/" + d.String() }

// UnnamedID gives the id, within its part, of the n-th unnamed passage,
// counted from 1.
func UnnamedID(n int) string { return fmt.Sprintf("unnamed-%d", n) }

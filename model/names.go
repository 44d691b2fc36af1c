package model

import (
	"fmt"
	"strings"
)

// Session ids are made of what the session is, never of its day, so that they
// stay when it moves: programme/part/listening, …/read-through,
// …/recordings, programme/part/passage/visit-2. A warm-up belongs to its day:
// warm-up/2027-01-14.

// PartName gives programme/part.
func PartName(programme, part string) string { return programme + "/" + part }

// PartsCalled gives the names of the parts that may be meant: the one whose name it is,
// or all whose id it is.
func (s *Season) PartsCalled(name string) (out []string) {
	for i := range s.Programmes {
		for _, p := range s.Programmes[i].Parts {
			switch full := PartName(s.Programmes[i].ID, p.ID); name {
			case full:
				return []string{full}
			case p.ID:
				out = append(out, full)
			}
		}
	}
	return out
}

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

// ShortTitle leaves away what a work's title says in brackets at its end, as a rule
// the composer.
func ShortTitle(title string) string {
	if at := strings.LastIndex(title, " ("); at > 0 && strings.HasSuffix(title, ")") {
		return title[:at]
	}
	return title
}

// A SessionDay is what a session that happened is known by: its name, without
// the number of a visit, which later plans may give to another, and its day. A
// passage has at most one visit a day, and a part each of its stages once.
type SessionDay struct {
	Name string // programme/part/passage, programme/part/listening, …, warm-up/2027-01-14
	Date Date
}

// Key gives what the session is known by on its day.
func (v *Session) Key() SessionDay { return SessionDay{nameOf(v.ID), v.Date} }

// Key gives the session that the event speaks of; its Name is empty where it
// speaks of none.
func (e *Event) Key() SessionDay { return SessionDay{nameOf(e.Session), e.Date} }

// nameOf takes the visit's number off a session id.
func nameOf(id string) string {
	if name, stage, _, ok := splitID(id); ok && stage == PassageStage {
		return name
	}
	return id
}

// partOf takes the last piece off a name.
func partOf(name string) string { return name[:max(0, strings.LastIndexByte(name, '/'))] }

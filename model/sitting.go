package model

import (
	"fmt"
	"strconv"
	"strings"
)

// Sitting is one of the sittings in which a part is heard. What is no longer than
// the listening of a day is heard in one. What is longer, an opera, is heard in
// several on days running, days off left aside: at the break, where the part has
// one, else in as many as it takes, as even as whole minutes allow.
type Sitting struct {
	ID      string // programme/part/listening; of several …/listening-1, …/listening-2
	Minutes Minutes
	Done    Date // the day it was heard; zero while it lies ahead
}

// sittings cuts a part's listening by what a day takes.
func (s *Season) sittings(part *Part) (out []Minutes) {
	all, most := part.Listening, s.Limits.Listening
	switch {
	case all == 0:
		return nil
	case all <= most || most == 0:
		return []Minutes{all}
	case part.Break > 0 && part.Break < all:
		return []Minutes{part.Break, all - part.Break}
	}
	n := (all + most - 1) / most
	for k := range n {
		m := all / n
		if k < all%n {
			m++
		}
		out = append(out, m)
	}
	return out
}

// SittingID gives the id of sitting k, counted from 1, of n.
func SittingID(part string, k, n int) string {
	if n == 1 {
		return StageID(part, ListeningStage)
	}
	return fmt.Sprintf("%s-%d", StageID(part, ListeningStage), k)
}

// sittingWord takes the number off the last piece of a sitting's id.
func sittingWord(s string) (stage string, ok bool) {
	n, is := strings.CutPrefix(s, string(ListeningStage)+"-")
	k, err := strconv.Atoi(n)
	if !is || err != nil || k < 1 || n[0] == '0' || n[0] == '+' {
		return s, false
	}
	return string(ListeningStage), true
}

// sit gives a part its sittings, and the day of its listening once all were heard.
func (w *PartWork) sit(s *Season, part *Part, h *History) {
	all := s.sittings(part)
	heard := len(all) > 0
	for k, m := range all {
		x := Sitting{ID: SittingID(w.Name, k+1, len(all)), Minutes: m}
		if h != nil {
			x.Minutes, x.Done = h.stage(ListeningStage, m, s), h.Stages[x.ID]
		}
		heard = heard && x.Done != 0
		w.Sittings = append(w.Sittings, x)
		w.Listened = max(w.Listened, x.Done)
	}
	if !heard {
		w.Listened = 0
	}
}

// ToHear gives the sittings that lie ahead.
func (w *PartWork) ToHear() (out []Sitting) {
	for _, x := range w.Sittings {
		if x.Done == 0 {
			out = append(out, x)
		}
	}
	return out
}

// HeardBefore gives the day before one that is no day off, on which the sitting
// before lies; zero where there is none from a first day on.
func (s *Season) HeardBefore(d, from Date) Date {
	for d--; d >= from; d-- {
		if !s.Limits.OffOn(d) {
			return d
		}
	}
	return 0
}

// Word says what a session is that is no visit: its stage, "listening 2" of a second
// sitting.
func (v *Session) Word() string { return stageWords(v.ID, v.Stage) }

// Word is the same of what is left out.
func (u *Unplaced) Word() string { return stageWords(u.ID, u.Stage) }

// Word is the same of what is wanted.
func (w *Wanted) Word() string { return stageWords(w.ID, w.Stage) }

func stageWords(id string, stage Stage) string {
	last := id[strings.LastIndexByte(id, '/')+1:]
	if _, ok := sittingWord(last); ok {
		return strings.Replace(last, "-", " ", 1)
	}
	return string(stage)
}

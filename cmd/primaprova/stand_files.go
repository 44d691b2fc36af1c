package main

import (
	"fmt"
	"os"
	"sync"
	"time"

	"primaprova/io/seasonfile"
	"primaprova/model"
)

// standFiles are the season and its plan as they stand, for whoever works beside the
// page: each is read again once it has been written.
type standFiles struct {
	a      *app
	season string

	mu               sync.Mutex
	f                *seasonfile.File
	p                *model.Plan
	seasonAt, planAt string // stamps of what was read
}

// read gives both, and a stamp that is another once one of them is. Nobody may change
// what is given.
func (s *standFiles) read() (*seasonfile.File, *model.Plan, string, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	// The season may name other files, and a day begins on an hour, in nearly every zone.
	seasonAt, planAt := time.Now().Format("2006-01-02 15")+stamped(s.season), stamped(planPath(s.season))
	if seasonAt != s.seasonAt {
		f, err := s.a.standingSeason(s.season)
		if err != nil {
			return nil, nil, "", err
		}
		s.f, s.seasonAt = f, seasonAt
	}
	if planAt != s.planAt {
		p, err := s.a.standing(s.f)
		if err != nil {
			return nil, nil, "", err
		}
		s.p, s.planAt = p, planAt
	}
	return s.f, s.p, seasonAt + planAt, nil
}

// stamped is another text whenever the file has been written.
func stamped(path string) string {
	info, err := os.Stat(path)
	if err != nil {
		return " none"
	}
	return fmt.Sprint(" ", info.Size(), info.ModTime().UnixNano())
}

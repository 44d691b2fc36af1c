package seasonfile

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"primaprova/model"
)

// validate gives the model's faults their places.
//
// What could not be read kept its default, so the model may find fault with
// what the player never meant: that a programme has no first rehearsal, when
// its only rehearsal has a slip in its date. Such faults are dropped; the slip
// is reported already. Without the season's dates nothing can be judged.
func (r *reader) validate(s *model.Season) {
	for _, path := range []string{"from", "to", "time_zone", "programmes"} {
		if r.spoiled[path] {
			return
		}
	}
	for _, f := range s.Validate() {
		if r.follows(f.Path) {
			continue
		}
		at, ok := around(r.places, f.Path)
		if !ok {
			at = Place{File: r.file, Line: 1, Column: 1}
		}
		r.faults = append(r.faults, Fault{File: at.File, Line: at.Line, Column: at.Column, Path: f.Path, Value: f.Value,
			Text: f.Text, Advice: f.Advice, Warning: f.Warning || f.Begun && r.sources.Begun})
	}
}

// spoil notes a path whose value could not be read.
func (r *reader) spoil(path string) {
	r.spoiled[path] = true
	for up, ok := holder(path); ok; up, ok = holder(up) {
		r.above[up] = true
	}
}

// follows tells whether a fault may be the consequence of one that the reader
// found: there, in what holds it, or in what it holds. Pins name sessions by
// the ids of all programmes.
func (r *reader) follows(path string) bool {
	if r.above[path] || strings.HasPrefix(path, "pins[") && r.above["programmes"] {
		return true
	}
	for ok := true; ok; path, ok = holder(path) {
		if r.spoiled[path] {
			return true
		}
	}
	return false
}

// holder gives the path of what holds a path.
func holder(path string) (string, bool) {
	cut := strings.LastIndexAny(path, ".[")
	if cut < 0 {
		return "", false
	}
	return path[:cut], true
}

var ofService = regexp.MustCompile(`^programmes\[(\d+)\](?:\.services\[(\d+)\])?`)

// Ahead gives the warnings without those of services and programmes that lie behind
// on a day: what is over is over.
func (f *File) Ahead(today model.Date) []Fault {
	return slices.DeleteFunc(slices.Clone(f.Warnings), func(w Fault) bool {
		m := ofService.FindStringSubmatch(w.Path)
		if m == nil || slices.Contains(f.StandIns, w) {
			return false
		}
		i, _ := strconv.Atoi(m[1])
		services := f.Season.Programmes[i].Services
		if j, err := strconv.Atoi(m[2]); err == nil && j < len(services) {
			return services[j].Date < today
		}
		return len(services) > 0 && !slices.ContainsFunc(services, func(v model.Service) bool { return v.Date >= today })
	})
}

package seasonfile

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"go.yaml.in/yaml/v3"

	"primaprova/io/recordfile"
	"primaprova/model"
)

// What an earlier season knows of a part
//
// known_from names the file of an earlier season, or {file, part} where the part was
// called otherwise there. From it come the passages, with their bars, difficulty,
// tempos and strains; from the record beside it those found then, the minutes that a
// first visit really took, and that a passage did not hold, which makes it one harder.
// When it was last played is the day of the last work at it, or of the last service
// that played it, unless known says so. A passage that the part names itself is as the
// part says, and one that was no longer needed does not come.
//
// The earlier season is only read, whole and strictly: one with faults is a fault here,
// and never half of it. What it takes over from one still earlier is left aside, so that
// no two seasons can name each other in a circle; naming itself is a fault. Both of its
// files are part of the checksum by which a plan knows the season, so that a change in
// them is seen like one in the season itself.

// takeOver gives a part what an earlier season knows of it, and the day on which it was
// last played; 0 where that can't be said.
func (r *reader) takeOver(f field, id string, part *model.Part) (played model.Date) {
	if r.sources.earlier {
		return 0
	}
	file, name := f, id
	if f.node != nil && f.node.Kind == yaml.MappingNode {
		file.node = nil
		r.table(f, key{"file", true, func(f field) bool { file = f; return true }}, opt("part", &name, r.words))
		if file.node == nil {
			return 0
		}
	}
	if isAddress(file.written()) {
		r.wrong(file, "../2025/season.yaml", "is an address, not the file of an earlier season")
		return 0
	}
	path, b, ok := r.named(file)
	if !ok {
		return 0
	}
	if one, err := os.Stat(path); err == nil {
		if other, err := os.Stat(r.file); err == nil && os.SameFile(one, other) {
			r.wrong(file, "the file of an earlier season", "is this season itself")
			return 0
		}
	}
	old, err := parse(path, b, nil, Sources{earlier: true, Standing: true})
	if err != nil {
		var faults Errors
		errors.As(err, &faults)
		r.wrong(file, "primaprova check "+path+" says which", "has %s of its own, and nothing is taken over", several(len(faults), "fault"))
		return 0
	}
	events, ok := r.earlierRecord(file, path)
	if !ok {
		return 0
	}
	return r.knownPart(file, name, part, old.Season, events)
}

// earlierRecord reads the record beside an earlier season's file.
func (r *reader) earlierRecord(file field, path string) ([]model.Event, bool) {
	end := func(name string) string { return strings.TrimSuffix(name, filepath.Ext(name)) + ".record.jsonl" }
	record, err := recordfile.Read(end(path))
	if err != nil {
		r.wrong(file, "", "its record can't be read: %v", err)
		return nil, false
	}
	if b, err := os.ReadFile(end(path)); err == nil {
		r.others[end(file.written())] = Named{end(path), b}
	}
	return record.Events, true
}

// knownPart takes over a part by its name, programme/part or the part alone where only one
// programme has it.
func (r *reader) knownPart(f field, name string, part *model.Part, s *model.Season, events []model.Event) (played model.Date) {
	h, _ := s.Replay(events, nil, model.Replaying{Today: s.To + 1})
	s = s.With(h)
	var all []string
	var found []model.PartWork
	for _, w := range s.Work(h) {
		all = append(all, w.Name)
		if w.Name == name || w.Part.ID == name {
			found = append(found, w)
		}
	}
	switch {
	case len(found) == 0:
		advice := "{file: " + f.written() + ", part: …}, with its name there"
		if near := Nearest(name, all); near != "" {
			advice = "{file: " + f.written() + ", part: " + near + "}"
		}
		r.wrong(f, advice, "has no part %s", name)
		return 0
	case len(found) > 1:
		r.wrong(f, "{file: "+f.written()+", part: "+found[0].Name+"}", "has more than one part %s", name)
		return 0
	}
	w := &found[0]
	played = model.LastPlayed(w, h, s.To)
	taken, hard := part.TakeOver(w, h, events, s.Habits.Step)
	part.Source = model.Source{Words: fmt.Sprintf("%s from %s: %s", w.Name, f.written(), several(taken, "passage")), Instrument: s.Instrument}
	if hard > 0 {
		part.Source.Words += fmt.Sprintf(", %d of which did not hold then", hard)
	}
	nameByBars(part.Passages)
	return played
}

func several(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// inFingers says that nothing of a part is lost.
const inFingers = "in the fingers"

// parseKnown reads when a part was last played: a date, a year, which stands for its last
// day, or that it is in the fingers, as a day that never lies before its arrival.
func parseKnown(s string) (model.Date, error) {
	if s == inFingers {
		return model.NewDate(9999, time.December, 31), nil
	}
	if y, err := strconv.Atoi(s); err == nil && len(s) == 4 && y >= 1900 {
		return model.NewDate(y, time.December, 31), nil
	}
	if d, err := model.ParseDate(s); err == nil {
		return d, nil
	}
	return 0, advised{"is no year or date on which it was last played", "2024, 2024-05-12, or " + inFingers}
}

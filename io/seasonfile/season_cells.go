package seasonfile

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"primaprova/model"
)

// The cells of a season's tables: as people fill them in, and as spreadsheets
// write what they take for dates and times.

// service reads a row that is a service.
func (s *sheets) service(w row) {
	p := &s.programmes[s.programme]
	path := fmt.Sprintf("programmes[%d].services[%d]", s.programme, len(p.Services))
	before := len(s.r.faults)
	var v model.Service
	var clock string
	if n := len(p.Services); !w.has("service") && n > 0 {
		v.Kind = p.Services[n-1].Kind
	} else if n == 0 && !w.has("service") {
		s.r.wrong(w.lacks("service"), "rehearsal or concert, recital, audition, lesson", "is missing")
	} else {
		w.read("service", func(f field) { value(s.r, f, &v.Kind, parseKind) })
	}
	date := w.cells["date"]
	if day, at, two := cutClock(date.value); two && w.cells["start"].value == "" {
		date.value, clock = day, at
	}
	if date.path = "date"; date.value == "" {
		s.r.wrong(w.lacks("date"), "", "is missing")
	} else {
		s.date(date, &v.Date)
	}
	if len(s.r.faults) > before {
		return
	}
	above := s.above(v.Kind)
	v.Start, v.Lasts, v.Playing, v.Travel = above.Start, above.Lasts, above.Playing, above.Travel
	start := w.cells["start"]
	start.value = cmp.Or(start.value, clock)
	timed := start.value != ""
	if start.path = "start"; timed {
		value(s.r, start, &v.Start, parseHour)
	} else if above.Lasts == 0 {
		s.r.wrong(w.lacks("start"), "", "is missing, and no %v stands above", v.Kind)
	}
	w.read("lasts", func(f field) { s.length(f, &v.Lasts) })
	w.read("end", func(f field) {
		var end model.Clock
		if value(s.r, f, &end, parseHour) {
			if end <= v.Start {
				end += 24 * 60 // after midnight
			}
			v.Lasts = model.Minutes(end - v.Start)
		}
	})
	if v.Lasts == 0 && !w.has("lasts", "end") {
		s.r.wrong(w.lacks("lasts"), "", "is missing, and no %v stands above", v.Kind)
	}
	w.read("playing", func(f field) { s.r.percent(f, &v.Playing) })
	w.read("travel", func(f field) { s.length(f, &v.Travel) })
	s.r.places[path] = w.at.place
	p.Services = append(p.Services, v)
	if len(s.r.faults) == before {
		s.lasts[v.Kind.String()] = v
	}
}

// above gives the last service of a kind, of the row's programme if it has one.
func (s *sheets) above(kind model.ServiceKind) model.Service {
	own := s.programmes[s.programme].Services
	for i := len(own) - 1; i >= 0; i-- {
		if own[i].Kind == kind {
			return own[i]
		}
	}
	if v, ok := s.lasts[kind.String()]; ok {
		return v
	}
	return model.Service{Playing: s.habits.ServicePlaying, Travel: s.habits.ServiceTravel}
}

// passage reads a row that is a passage of the part at hand.
func (s *sheets) passage(w row) {
	part := &s.programmes[s.programme].Parts[s.part]
	path := fmt.Sprintf("programmes[%d].parts[%d].passages[%d]", s.programme, s.part, len(part.Passages))
	q := model.Passage{Hard: 2}
	w.read("bars", func(f field) { s.r.tableBars(f, &q.Bars) })
	w.read("hard", func(f field) { value(s.r, f, &q.Hard, parseDifficulty) })
	w.read("exposed", func(f field) { value(s.r, f, &q.Exposed, parseTick) })
	w.read("minutes", func(f field) { s.length(f, &q.Minutes) })
	w.read("tempo", func(f field) { s.r.tempos(f, &q.Tempo) })
	w.read("strains", func(f field) { s.r.words(f, &q.Strains) })
	s.r.places[path] = w.at.place
	part.Passages = append(part.Passages, q)
}

// cutClock parts a date from a time of day behind it.
func cutClock(s string) (day, clock string, two bool) {
	at := strings.LastIndexByte(s, ' ')
	if at < 0 {
		return s, "", false
	}
	if _, err := model.SaidClock(s[at+1:]); err != nil {
		return s, "", false
	}
	return strings.TrimSpace(s[:at]), s[at+1:], true
}

// parseHour reads a time of day, a bare hour too.
func parseHour(s string) (model.Clock, error) {
	if len(s) <= 2 {
		s += ":00"
	}
	return parseClock(s)
}

// parseKind reads a kind of service: its name, the beginning of it, or a text that
// has it in it, as in dress rehearsal.
func parseKind(s string) (model.ServiceKind, error) {
	s = strings.ToLower(s)
	var near []string
	var kind model.ServiceKind
	for _, k := range model.ServiceKinds {
		if strings.Contains(s, k.String()) {
			return k, nil
		}
		if strings.HasPrefix(k.String(), s) {
			kind, near = k, append(near, k.String())
		}
	}
	if strings.Contains(s, "performance") {
		return model.Concert, nil
	}
	switch len(near) {
	case 1:
		return kind, nil
	case 0:
		var names []string
		for _, k := range model.ServiceKinds {
			names = append(names, k.String())
		}
		return 0, advised{"is no rehearsal, concert, recital, audition or lesson", Nearest(s, names)}
	}
	return 0, advised{"can be read in two ways", strings.Join(near, " or ")}
}

// parseDifficulty reads 1 to 3, or the word for it.
func parseDifficulty(s string) (int, error) {
	if i := slices.Index(difficulties, strings.ToLower(s)); i > 0 {
		return i, nil
	}
	return parseHard(s)
}

var difficulties = []string{"", "easy", "ordinary", "hard"}

// parseTick reads yes and no, and the mark that people make in a column.
func parseTick(s string) (bool, error) {
	switch s {
	case "x", "X", "1":
		return true, nil
	case "0", "-":
		return false, nil
	}
	return parseFlag(s)
}

var hoursAndMinutes = regexp.MustCompile(`^(\d{1,2}):(\d{2})(:00)?$`)

// length reads minutes, and 2:30 as spreadsheets write lengths.
func (s *sheets) length(f field, to *model.Minutes) {
	if m := hoursAndMinutes.FindStringSubmatch(f.value); m != nil {
		f.value = m[1] + " h " + m[2] + " min"
	}
	s.r.minutes(f, to)
}

package seasonfile

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"primaprova/model"
)

func (r *reader) programmes(f field, s *model.Season) {
	in, _ := r.items(f)
	for _, item := range in {
		s.Programmes = append(s.Programmes, model.Programme{})
		r.programme(item, s, &s.Programmes[len(s.Programmes)-1])
	}
	// Parts in tables come last: a table may hold the parts of several
	// programmes, and a row's programme can only be judged when all are known.
	for i, item := range in {
		r.tables(item, s, &s.Programmes[i])
		r.passageTables(item, s, &s.Programmes[i])
	}
}

func (r *reader) programme(f field, s *model.Season, p *model.Programme) {
	t, ok := r.table(f, "id", "title", "services", "services_from", "parts", "parts_from", "passages_from", "level")
	if !ok {
		return
	}
	t.needs("id")
	t.read("id", func(f field) { r.id(f, &p.ID) })
	p.Title = p.ID
	t.read("title", func(f field) { r.words(f, &p.Title) })
	t.read("level", func(f field) { r.level(f, &p.Level) })
	t.read("services", func(f field) {
		in, _ := r.items(f)
		for _, item := range in {
			r.service(item, &s.Habits, p)
		}
	})
	t.read("services_from", func(f field) { r.services(f, s, p) })
	t.read("parts", func(f field) {
		in, _ := r.items(f)
		for _, item := range in {
			if t, ok := r.table(item, slices.Concat(partKeys, []string{"passages"})...); ok {
				r.part(t, &s.Habits, p)
			}
		}
	})
}

// idForm is what ids are made of, so that programme/part/passage stays one
// word on a command line and in a file name.
var idForm = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9.-]*$`)

var notInID = regexp.MustCompile(`[^A-Za-z0-9.]+`)

// cleaned makes an id of any text, "" when nothing in it will do.
func cleaned(s string) string {
	return strings.Trim(notInID.ReplaceAllString(s, "-"), "-.")
}

func (r *reader) id(f field, to *string) bool {
	return value(r, f, to, func(s string) (string, error) {
		if idForm.MatchString(s) && len(s) <= longest {
			return s, nil
		}
		return "", advised{fmt.Sprintf("is not an id: at most %d letters, digits, dots and dashes", longest), shorten(cleaned(s))}
	})
}

func (r *reader) service(f field, h *model.Habits, p *model.Programme) {
	t, ok := r.table(f, "rehearsal", "concert", "recital", "audition", "lesson", "lasts", "playing", "travel", "level", "works")
	if !ok {
		return
	}
	v := model.Service{Playing: h.ServicePlaying, Travel: h.ServiceTravel}
	kinds := 0
	for _, kind := range model.ServiceKinds {
		if _, is := t.fields[kind.String()]; is {
			kinds++
		}
	}
	if kinds != 1 {
		at := f
		at.node = nil
		r.wrong(at, "{rehearsal: 2027-02-03 10:00, lasts: 150 min}", "a service is one of rehearsal, concert, recital, audition, lesson")
		ok = false
	}
	when := func(kind model.ServiceKind) func(field) {
		return func(f field) {
			var m moment
			ok = value(r, f, &m, parseMoment) && ok
			v.Kind, v.Date, v.Start = kind, m.date, m.clock
		}
	}
	for _, kind := range model.ServiceKinds {
		t.read(kind.String(), when(kind))
	}
	t.needs("lasts")
	t.read("lasts", func(f field) { ok = r.minutes(f, &v.Lasts) && ok })
	t.read("playing", func(f field) { ok = r.percent(f, &v.Playing) && ok })
	t.read("travel", func(f field) { ok = r.minutes(f, &v.Travel) && ok })
	t.read("level", func(f field) { ok = r.level(f, &v.Level) && ok })
	t.read("works", func(f field) { ok = list(r, f, &v.Works, r.id) && ok })
	// A service that can't be read keeps its place in the list, so that the
	// paths of those after it hold; with a fault the season is not used.
	p.Services = append(p.Services, v)
}

// partKeys are the keys of a part in the season file and the columns of a
// table of parts.
var partKeys = []string{"id", "work", "arrives", "listening", "break", "read_through", "recordings", "estimate", "known", "known_from", "comes_back", "duration", "bars"}

func (r *reader) part(t table, h *model.Habits, p *model.Programme) {
	part := model.Part{Listening: h.Listening, ReadThrough: h.ReadThrough, Recordings: h.Recordings}
	t.needs("id", "arrives")
	t.read("id", func(f field) { r.id(f, &part.ID) })
	part.Work = part.ID
	t.read("work", func(f field) { r.words(f, &part.Work) })
	t.read("arrives", func(f field) { r.date(f, &part.Arrives) })
	var duration model.Minutes
	bars := 0
	t.read("duration", func(f field) { r.minutes(f, &duration) })
	t.read("bars", func(f field) { r.number(f, &bars) })
	part.Lasting(duration, bars, h)
	t.read("listening", func(f field) { r.minutes(f, &part.Listening) })
	t.read("break", func(f field) { r.minutes(f, &part.Break) })
	t.read("read_through", func(f field) { r.minutes(f, &part.ReadThrough) })
	t.read("recordings", func(f field) { r.minutes(f, &part.Recordings) })
	t.read("estimate", func(f field) { r.minutes(f, &part.Estimate) })
	t.read("comes_back", func(f field) { r.flag(f, &part.ComesBack) })
	var played model.Date
	t.read("passages", func(f field) { r.passages(f, &part) })
	t.read("known_from", func(f field) { played = r.takeOver(f, part.ID, &part) })
	t.read("known", func(f field) { value(r, f, &played, parseKnown) })
	if played != 0 {
		part.Kept = model.Kept(played, part.Arrives)
	}
	for i := range part.Passages {
		part.Passages[i].Kept = part.Kept
	}
	p.Parts = append(p.Parts, part)
}

func (r *reader) passages(f field, part *model.Part) {
	in, _ := r.items(f)
	for _, item := range in {
		part.Passages = append(part.Passages, model.Passage{Hard: 2})
		r.passage(item, &part.Passages[len(part.Passages)-1])
	}
	nameByBars(part.Passages)
}

func (r *reader) passage(f field, p *model.Passage) {
	t, ok := r.table(f, "id", "bars", "hard", "exposed", "minutes", "visits", "due", "found", "daily", "tempo", "strains")
	if !ok {
		return
	}
	t.needs("bars")
	t.read("id", func(f field) { r.id(f, &p.ID) })
	t.read("bars", func(f field) { r.bars(f, &p.Bars) })
	if p.Bars == "" {
		r.spoil(f.path + ".id") // which would have been made of them
	}
	t.read("hard", func(f field) { value(r, f, &p.Hard, parseHard) })
	t.read("exposed", func(f field) { r.flag(f, &p.Exposed) })
	t.read("daily", func(f field) { r.flag(f, &p.Daily) })
	t.read("minutes", func(f field) { r.minutes(f, &p.Minutes) })
	t.read("visits", func(f field) { list(r, f, &p.Visits, r.minutes) })
	t.read("due", func(f field) { r.date(f, &p.Due) })
	t.read("found", func(f field) { r.date(f, &p.Found) })
	t.read("tempo", func(f field) { r.pace(f, &p.Tempo) })
	t.read("strains", func(f field) { r.words(f, &p.Strains) })
}

func (r *reader) pace(f field, p *model.Pace) {
	t, ok := r.table(f, "now", "goal")
	if !ok {
		return
	}
	t.needs("goal")
	t.read("now", func(f field) { value(r, f, &p.Now, parseTempo) })
	t.read("goal", func(f field) { value(r, f, &p.Goal, parseTempo) })
}

func parseTempo(s string) (model.Tempo, error) {
	if n, err := strconv.Atoi(s); err == nil && n > 0 && n <= mostNumber {
		return model.Tempo(n), nil
	}
	return 0, advised{text: "is not a number of beats a minute like 96"}
}

func (r *reader) bars(f field, to *string) {
	value(r, f, to, func(s string) (string, error) {
		if cleaned(s) == "" {
			return "", advised{text: "names no bars", advice: "45-61"}
		}
		return parseWords(s)
	})
}

func parseHard(s string) (int, error) {
	switch s {
	case "1", "2", "3":
		return int(s[0] - '0'), nil
	}
	return 0, advised{text: "is not 1 (easy), 2 (ordinary) or 3 (hard)"}
}

// nameByBars gives the passages without an id one made of their bars. Where
// that is taken, the second gets -2, and so on, in the order of the file; ids
// that the player wrote are never changed.
func nameByBars(ps []model.Passage) {
	taken := map[string]bool{}
	for _, p := range ps {
		taken[p.ID] = true
	}
	for i := range ps {
		base := cleaned(ps[i].Bars)
		if ps[i].ID != "" || base == "" {
			continue
		}
		if r := []rune(base); len(r) > longest-4 {
			base = strings.Trim(string(r[:longest-4]), "-.")
		}
		id := base
		for n := 2; taken[id]; n++ {
			id = fmt.Sprintf("%s-%d", base, n)
		}
		ps[i].ID = id
		taken[id] = true
	}
}

package seasonfile

import (
	"cmp"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"primaprova/model"
)

func (r *reader) programmes(f field, s *model.Season) bool {
	in, ok := r.items(f)
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
	return ok
}

func (r *reader) programme(f field, s *model.Season, p *model.Programme) {
	r.table(f,
		must("id", &p.ID, r.id),
		opt("title", &p.Title, r.words),
		opt("level", &p.Level, r.level),
		with("services", func(f field) {
			in, _ := r.items(f)
			for _, item := range in {
				r.service(item, &s.Habits, p)
			}
		}),
		with("services_from", func(f field) { r.services(f, s, p) }),
		with("parts", func(f field) {
			in, _ := r.items(f)
			for _, item := range in {
				if t := r.known(item, append(partKeys, "passages")...); t.fields != nil {
					r.part(t, &s.Habits, p)
				}
			}
		}),
		key{name: "parts_from"}, key{name: "passages_from"}, // read once all programmes are known
	)
	p.Title = cmp.Or(p.Title, p.ID)
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
	v := model.Service{Playing: h.ServicePlaying, Travel: h.ServiceTravel}
	var keys []key
	kinds := 0
	for _, kind := range model.ServiceKinds {
		keys = append(keys, with(kind.String(), func(f field) {
			var m moment
			value(r, f, &m, parseMoment)
			v.Kind, v.Date, v.Start = kind, m.date, m.clock
			kinds++
		}))
	}
	keys = append(keys,
		must("lasts", &v.Lasts, r.minutes),
		opt("playing", &v.Playing, r.percent),
		opt("travel", &v.Travel, r.minutes),
		opt("level", &v.Level, r.level),
		opt("works", &v.Works, listOf(r, r.id)),
	)
	if r.table(f, keys...).fields == nil {
		return
	}
	if kinds != 1 {
		f.node = nil
		r.wrong(f, "{rehearsal: 2027-02-03 10:00, lasts: 150 min}", "a service is one of rehearsal, concert, recital, audition, lesson")
	}
	// A service that can't be read keeps its place in the list, so that the
	// paths of those after it hold; with a fault the season is not used.
	p.Services = append(p.Services, v)
}

// partKeys are the keys of a part in the season file and the columns of a
// table of parts.
var partKeys = []string{"id", "work", "arrives", "listening", "break", "read_through", "recordings", "estimate", "known", "known_from", "comes_back", "ready_days", "duration", "bars"}

func (r *reader) part(t table, h *model.Habits, p *model.Programme) {
	part := model.Part{Listening: h.Listening, ReadThrough: h.ReadThrough, Recordings: h.Recordings}
	var duration model.Minutes
	bars := 0
	t.read(
		must("id", &part.ID, r.id),
		opt("work", &part.Work, r.words),
		must("arrives", &part.Arrives, r.date),
		opt("duration", &duration, r.minutes),
		opt("bars", &bars, r.number),
	)
	part.Work = cmp.Or(part.Work, part.ID)
	part.Lasting(duration, bars, h)
	var played model.Date
	t.read(
		opt("listening", &part.Listening, r.minutes),
		opt("break", &part.Break, r.minutes),
		opt("read_through", &part.ReadThrough, r.minutes),
		opt("recordings", &part.Recordings, r.minutes),
		opt("estimate", &part.Estimate, r.minutes),
		opt("comes_back", &part.ComesBack, r.flag),
		opt("ready_days", &part.ReadyDays, r.ownDays),
		with("passages", func(f field) { r.passages(f, &part) }),
		with("known_from", func(f field) { played = r.takeOver(f, part.ID, &part) }),
		opt("known", &played, by(r, parseKnown)),
	)
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
	t := r.table(f,
		opt("id", &p.ID, r.id),
		must("bars", &p.Bars, r.bars),
		opt("hard", &p.Hard, by(r, parseHard)),
		opt("exposed", &p.Exposed, r.flag),
		opt("daily", &p.Daily, r.flag),
		opt("minutes", &p.Minutes, r.minutes),
		opt("visits", &p.Visits, listOf(r, r.minutes)),
		opt("due", &p.Due, r.date),
		opt("found", &p.Found, r.date),
		opt("tempo", &p.Tempo, r.pace),
		opt("strains", &p.Strains, r.words),
	)
	if t.fields != nil && p.Bars == "" {
		r.spoil(f.path + ".id") // which would have been made of them
	}
}

func (r *reader) pace(f field, p *model.Pace) bool {
	return r.table(f, opt("now", &p.Now, by(r, parseTempo)), must("goal", &p.Goal, by(r, parseTempo))).good
}

func parseTempo(s string) (model.Tempo, error) {
	if n, err := strconv.Atoi(s); err == nil && n > 0 && n <= mostNumber {
		return model.Tempo(n), nil
	}
	return 0, advised{text: "is not a number of beats a minute like 96"}
}

func (r *reader) bars(f field, to *string) bool {
	return value(r, f, to, func(s string) (string, error) {
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

package seasonfile

import (
	"fmt"
	"slices"
	"strings"

	"primaprova/model"
)

// servicesFrom reads the season's services_from: a list of files with the rules
// that say what is what in them.
//
//	services_from:
//	  - file: orchestra.ics
//	    rules:
//	      - {words: tide tables, programme: tide}
//	      - {words: [sectional, strings], programme: tide, is: rehearsal}
//	      - {words: board meeting, is: nothing}
//
// The first rule that matches counts. What matches none is listed in warnings,
// and so is what a rule takes for a service without its being clear which.
func (r *reader) servicesFrom(f field, s *model.Season) {
	in, ok := r.items(f)
	for _, item := range in {
		ok = r.servicesFile(item, s) && ok
	}
	if !ok { // then no programme's services are known
		for i := range s.Programmes {
			r.spoil(fmt.Sprintf("programmes[%d].services", i))
		}
	}
	slices.SortStableFunc(s.Busy, byTime)
}

func (r *reader) servicesFile(f field, s *model.Season) bool {
	playing, travel := s.Habits.ServicePlaying, s.Habits.ServiceTravel
	var rules []serviceRule
	var columns map[string]string
	var dates string
	src, t, ok := r.source(f, s,
		with("playing", func(f field) { r.percent(f, &playing) }),
		with("travel", func(f field) { r.minutes(f, &travel) }),
		opt("columns", &columns, r.columns),
		opt("dates", &dates, by(r, oneOf(dateOrders))),
		opt("rules", &rules, listOf(r, func(f field, to *serviceRule) bool {
			*to = serviceRule{dates: model.Range{From: s.From, To: s.To}, programme: none, playing: playing, travel: travel}
			return r.serviceRule(f, s, to)
		})),
	)
	src.columns, src.dates, ok = columns, dates, ok && t.good
	if !ok {
		return false
	}
	list, ok := r.announcements(&src, s)
	if !ok {
		return false
	}
	out := unmatched{r: r, path: src.path}
	for i := range list {
		a := &list[i]
		if s.From <= a.last && a.date <= s.To {
			r.sort(a, rules, s, &out)
		}
		if len(s.Busy) > mostBusy {
			r.faults = append(r.faults, tooBusy(src.path, a.place.Line))
			return false
		}
	}
	out.warn("a line in rules, for example {words: staff meeting, is: nothing}")
	return true
}

const none = -1

// serviceRule says what the entries are that it matches.
type serviceRule struct {
	words     []string // all of them have to be there, in any case
	dates     model.Range
	is        string // rehearsal, concert, busy, tour, nothing; "": what its own words say
	programme int    // index; none where the rule names none
	playing   int
	travel    model.Minutes
	level     model.Level // of its hall, say; 0: not known
}

// meanings are what an entry can be.
var meanings = []string{"rehearsal", "concert", "recital", "audition", "lesson", "busy", "tour", "nothing"}

func (r *reader) serviceRule(f field, s *model.Season, to *serviceRule) bool {
	t := r.table(f,
		opt("words", &to.words, func(f field, to *[]string) (ok bool) {
			if f.kind() == "a single value" {
				*to = []string{""}
				ok = r.words(f, &(*to)[0])
			} else {
				ok = list(r, f, to, r.words)
			}
			for i, w := range *to {
				(*to)[i] = strings.ToLower(w)
			}
			return ok
		}),
		opt("from", &to.dates.From, r.date),
		opt("to", &to.dates.To, r.date),
		opt("is", &to.is, by(r, oneOf(meanings))),
		opt("programme", &to.programme, by(r, func(id string) (int, error) {
			i := slices.Index(programmeIDs(s), id)
			if i < 0 {
				return none, advised{"no programme has this id", Nearest(id, programmeIDs(s))}
			}
			return i, nil
		})),
		opt("playing", &to.playing, r.percent),
		opt("travel", &to.travel, r.minutes),
		opt("level", &to.level, r.level),
	)
	if t.good && len(to.words) == 0 && t.fields["from"].node == nil && t.fields["to"].node == nil {
		r.wrong(f, "words: Tide tables", "this rule matches everything: it has neither words nor dates")
		return false
	}
	return t.good
}

func (u *serviceRule) matches(a *announced) bool {
	if a.last < u.dates.From || a.date > u.dates.To {
		return false
	}
	for _, w := range u.words {
		if !strings.Contains(a.words, w) {
			return false
		}
	}
	return true
}

// sort finds out what an entry is, and enters it.
func (r *reader) sort(a *announced, rules []serviceRule, s *model.Season, out *unmatched) {
	rule := serviceRule{programme: none, playing: s.Habits.ServicePlaying, travel: s.Habits.ServiceTravel}
	i := slices.IndexFunc(rules, func(u serviceRule) bool { return u.matches(a) })
	if i >= 0 {
		rule = rules[i]
	}
	if rule.programme == none && a.programme != "" { // a table may say it itself
		rule.programme = slices.Index(programmeIDs(s), a.programme)
	}
	switch rule.is {
	case "nothing":
		return
	case "busy":
		r.addBusy(a, s)
		return
	case "tour":
		s.Limits.Tours = append(s.Limits.Tours, model.Range{From: max(a.date, s.From), To: min(a.last, s.To)})
		return
	}
	if i < 0 && rule.programme == none {
		out.add(a, "matches no rule of services_from and is left out")
		return
	}
	kind, known := a.itsKind()
	for _, k := range model.ServiceKinds {
		if rule.is == k.String() {
			kind, known = k, true
		}
	}
	switch {
	case !known:
		out.add(a, "is neither rehearsal nor concert by its words, and its rule does not say which; it is left out")
	case rule.programme == none:
		out.add(a, fmt.Sprintf("is a %v of no programme: its rule names none; it is left out", kind))
	case s.Holds(a.date):
		path := fmt.Sprintf("programmes[%d].services", rule.programme)
		r.addService(a, kind, rule.playing, rule.travel, rule.level, path, &s.Programmes[rule.programme], out)
	}
}

// addBusy enters what is no service and takes its time all the same, where there
// are hours to take it from.
func (r *reader) addBusy(a *announced, s *model.Season) {
	add := func(d model.Date, from, to model.Clock) {
		if s.HasHours() && s.Holds(d) && from < to {
			s.Busy = append(s.Busy, model.Busy{Date: d, Span: model.Span{From: from, To: to}, Title: shorten(a.title)})
		}
	}
	if !a.timed {
		for d := max(a.date, s.From); d <= min(a.last, s.To); d++ {
			add(d, 0, 24*60)
		}
		return
	}
	end := a.start + model.Clock(a.lasts)
	d := max(a.date, s.From-1)
	end -= model.Clock(d-a.date) * 24 * 60
	for ; end > 0 && d <= s.To; d, end = d+1, end-24*60 {
		from := model.Clock(0)
		if d == a.date {
			from = a.start
		}
		add(d, from, min(end, 24*60))
	}
}

func byTime(a, b model.Busy) int {
	if a.Date != b.Date {
		return int(a.Date - b.Date)
	}
	return int(a.From - b.From)
}

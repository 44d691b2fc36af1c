package wall

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"primaprova/model"
)

// diary is a plan seen day by day, with all that a page says of a day.
type diary struct {
	*model.View
	title, instrument string // of the season, as far as fonts have their letters
	source            string // which plan this is
	locale            model.Locale
	programmes        []programme   // by first rehearsal; letters follow this order
	days              []day         // of the whole season
	greatest          model.Minutes // the longest bar: the highest cap, or a load above it
	highest           model.Minutes // cap
	other             bool          // some day has other playing
	parts             map[string]*part
	passages          map[string]place
	recorded          map[model.SessionDay]string
}

// place is where a passage is: its bars, and its number in its part, from 1.
type place struct {
	bars   string
	number int
}

// name names a passage where its bars can't be said.
func (p place) name() string {
	if p.number == 0 { // one that was found, or is kept up
		return "a passage"
	}
	return "passage " + itoa(p.number)
}

// markKind is what a badge stands for.
type markKind int

const (
	plainMark markKind = iota // no badge: words alone
	readyMark
	rehearsalMark
	concertMark
	firstMark
)

// mark is a service or a ready-by date on a day.
type mark struct {
	kind      markKind
	programme int
	at        model.Clock // below 0: some time of the day
	service   model.ServiceKind
	missed    bool   // the service is not played
	other     string // playing of no programme: its title; the programme is none
}

// piece is what a day holds of one part.
type piece struct {
	part    *part
	stages  []string
	visits  int
	minutes model.Minutes
}

// day is all that is known of a date.
type day struct {
	date      model.Date
	room      model.Room
	marks     []mark
	pieces    []piece
	shares    []share
	load      model.Minutes
	most      model.Minutes // what the day's limits allow
	free      string        // why nothing is planned to be played; empty: it may be
	note      string        // what the player noted of it
	listening model.Minutes
}

func newDiary(f *fonts, s *model.Season, p *model.Plan, h *model.History, l model.Locale) *diary {
	d := &diary{View: s.View(p, h), locale: f.locale(l), parts: map[string]*part{}, passages: map[string]place{}}
	d.title, d.instrument = f.title(clean(s.Title), "The season"), f.title(clean(s.Instrument), "")
	d.source = source(p, d.locale)
	for i := range s.Programmes {
		d.programmes = append(d.programmes, newProgramme(f, s, &s.Programmes[i], d.Looks[i]))
	}
	slices.SortStableFunc(d.programmes, func(a, b programme) int { return cmp.Compare(a.first, b.first) })
	for i := range d.programmes {
		q := &d.programmes[i]
		for j := range q.Parts {
			name, of := model.PartName(q.ID, q.Parts[j].ID), &q.Parts[j]
			id := f.title(clean(of.ID), "part "+itoa(j+1))
			d.parts[name] = &part{f.title(model.ShortTitle(clean(of.Work)), id), id, i}
			for k := range of.Passages {
				where := strings.TrimSuffix(strings.TrimPrefix(of.Passages[k].Where(), "bars "), " of the estimate")
				d.passages[model.PassageName(name, of.Passages[k].ID)] = place{where, k + 1}
			}
		}
	}
	for i := range d.Work {
		t := d.Stand(d.Work[i].Name)
		if f := t.Later(); f.Date != 0 {
			q := &d.programmes[d.parts[t.Part].programme]
			q.later = append(q.later, d.parts[t.Part].id+" ready for "+d.locale.For(f))
		}
		if len(t.Lacks) > 0 && !t.Over {
			q := &d.programmes[d.parts[t.Part].programme]
			q.leftOut += len(t.Lacks)
			q.lacks = append(q.lacks, d.lacking(f, t))
		}
	}
	for date := s.From; date <= s.To; date++ {
		d.days = append(d.days, d.day(f, date, d.Days[date]))
		last := &d.days[len(d.days)-1]
		d.greatest, d.highest = max(d.greatest, last.most, last.load), max(d.highest, last.most)
	}
	return d
}

func (d *diary) day(f *fonts, date model.Date, sessions []*model.Session) day {
	sum := d.Loads().On(date)
	out := day{date: date, room: d.Season.RoomOn(date), load: sum.Playing(), most: sum.Most, listening: sum.Listening, free: d.Season.RestWord(date, d.History), note: clean(d.History.Noted(date))}
	for i := range d.programmes {
		q := &d.programmes[i]
		if q.ready == date {
			out.marks = append(out.marks, mark{kind: readyMark, programme: i, at: -1})
		}
		firstToday := q.first == date
		for _, v := range inOrder(q.Services, date) {
			kind := rehearsalMark
			switch {
			case v.Missed:
				kind = plainMark
			case !v.Kind.Rehearses():
				kind = concertMark
			case firstToday:
				kind, firstToday = firstMark, false
			}
			out.marks = append(out.marks, mark{kind: kind, programme: i, at: v.Start, service: v.Kind, missed: v.Missed})
			out.add(share{i, true, v.PlayingMinutes()})
		}
	}
	for _, o := range d.Season.OtherOn(date) {
		at := o.At.From
		if o.At.To == 0 {
			at = -1
		}
		out.marks = append(out.marks, mark{programme: -1, at: at, other: f.title(clean(o.Title), "other playing")})
	}
	if sum.Other > 0 {
		d.other = true
		out.add(share{-1, true, sum.Other})
	}
	slices.SortStableFunc(out.marks, func(a, b mark) int { return cmp.Compare(a.at, b.at) })
	for _, s := range sessions {
		q := d.parts[s.Part]
		if q == nil { // a warm-up, or a part that the season no longer has
			if s.Playing {
				out.add(share{-1, false, s.Minutes})
			}
			continue
		}
		if s.Playing {
			out.add(share{q.programme, false, s.Minutes})
		}
		out.piece(q, s)
	}
	slices.SortStableFunc(out.shares, byKind)
	return out
}

// inOrder gives the services of a date by their start.
func inOrder(all []model.Service, date model.Date) []model.Service {
	var out []model.Service
	for _, v := range all {
		if v.Date == date {
			out = append(out, v)
		}
	}
	slices.SortStableFunc(out, func(a, b model.Service) int { return cmp.Compare(a.Start, b.Start) })
	return out
}

func (d *day) piece(q *part, s *model.Session) {
	at := slices.IndexFunc(d.pieces, func(p piece) bool { return p.part == q })
	if at < 0 {
		at = len(d.pieces)
		d.pieces = append(d.pieces, piece{part: q})
	}
	p := &d.pieces[at]
	p.minutes += s.Minutes
	if s.Stage == model.PassageStage {
		p.visits++
	} else {
		p.stages = append(p.stages, string(s.Stage))
	}
}

// on gives a date's day, nil outside the season.
func (d *diary) on(date model.Date) *day {
	if date < d.Season.From || date > d.Season.To {
		return nil
	}
	return &d.days[date-d.Season.From]
}

// sum gives the load of some days, those outside the season left out.
func (d *diary) sum(days model.Range) model.Minutes {
	load := d.Loads().During(days)
	return load.Playing()
}

// during gives the programmes that concern some days.
func (d *diary) during(days model.Range) []*programme {
	var out []*programme
	for i := range d.programmes {
		if q := &d.programmes[i]; q.span.From <= days.To && q.span.To >= days.From {
			out = append(out, q)
		}
	}
	return out
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

func itoa(n int) string { return strconv.Itoa(n) }

package wall

import (
	"cmp"
	"fmt"
	"io"

	"primaprova/io/pdf"
	"primaprova/model"
)

// Sheet is a kind of page.
type Sheet string

// The kinds of page, and all of them in the order in which they are written.
const (
	Season Sheet = "season" // all days on one sheet, as long as they can be read there
	Months Sheet = "months" // a month a page
	Weeks  Sheet = "weeks"  // a week a page, with a box to tick for each session
	Stand  Sheet = "days"   // a day on a page or more that stand, in large type: for the music stand
	Parts  Sheet = "parts"  // each part's way from arrival to ready, and the weeks' load
)

// Sheets lists the kinds of page.
var Sheets = []Sheet{Season, Months, Weeks, Stand, Parts}

// Options says what is written and how. The zero Options writes the season and
// its months, lying, on the locale's paper.
type Options struct {
	Locale  model.Locale
	Sheets  []Sheet     // empty: the season and its months
	Large   model.Paper // of the season's and the parts' sheets; empty: the one above Locale.Paper
	Upright bool        // pages stand (portrait) in place of lying (landscape)
	Days    model.Range // pages that hold some of these days; zero: the whole season
	Font    []byte      // a TrueType font for letters that the built-in ones lack
	// Recorded is what the record says of sessions: those that are done are ticked.
	Recorded map[model.SessionDay]string
}

// Write writes a plan as a PDF; the history, which may be nil, says where tempos
// stand. It gives the letters that no font has, each
// once and in order, and those of scripts that need a shaper; a name with such
// letters gives way to its id or its number. A font that cannot be used is
// an error, and so is a paper without a size.
func Write(w io.Writer, s *model.Season, p *model.Plan, h *model.History, o Options) (missing []rune, err error) {
	if len(o.Font) > 0 {
		defer pdf.Broken(&err)
	}
	f, err := newFonts(o.Font)
	if err != nil {
		return nil, err
	}
	sheets, err := lay(f, s, p, h, o)
	if err != nil {
		return nil, err
	}
	return f.missing(), paint(w, f, s, p, sheets)
}

// lay turns a plan into sheets.
func lay(f *fonts, s *model.Season, p *model.Plan, h *model.History, o Options) ([]*sheet, error) {
	d := newDiary(f, s, p, h, o.Locale)
	d.recorded = o.Recorded
	days := model.Range{From: s.From, To: s.To}
	if o.Days != (model.Range{}) {
		days = model.Range{From: max(s.From, o.Days.From), To: min(s.To, o.Days.To)}
	}
	if days.Days() == 0 {
		return nil, fmt.Errorf("%s lies outside the season, %s", o.Days, model.Range{From: s.From, To: s.To})
	}
	kinds := o.Sheets
	if len(kinds) == 0 {
		kinds = []Sheet{Season, Months}
	}
	small := cmp.Or(o.Locale.Paper, model.A4)
	var out []*sheet
	for _, kind := range kinds {
		paper := small
		if kind == Season || kind == Parts {
			paper = cmp.Or(o.Large, small.Larger())
		}
		page, err := o.blank(f, paper)
		if err != nil {
			return nil, err
		}
		switch kind {
		case Season:
			out = append(out, d.seasonSheets(page, days)...)
		case Months:
			out = append(out, d.monthSheets(page, days)...)
		case Weeks:
			out = append(out, d.weekSheets(page, days)...)
		case Parts:
			out = append(out, d.waySheets(page, days)...)
		case Stand:
			o := o
			o.Upright = true // as parts stand beside it
			if page, err = o.blank(f, paper); err != nil {
				return nil, err
			}
			out = append(out, d.daySheets(page, d.stood(days, o))...)
		default:
			return nil, fmt.Errorf("%q is none of the sheets season, months, weeks, days, parts", kind)
		}
	}
	numbered(out)
	return out, nil
}

// blank gives a function that makes empty sheets of a paper.
func (o Options) blank(f *fonts, p model.Paper) (func(title string) *sheet, error) {
	short, long := p.Size()
	if short == 0 {
		return nil, fmt.Errorf("%q is none of the papers a4, a3, a2, letter, tabloid", p)
	}
	w, h := long, short
	if o.Upright {
		w, h = short, long
	}
	return func(title string) *sheet { return &sheet{fonts: f, w: w, h: h, title: title} }, nil
}

// monthSheets gives a page for each month that has some of the days.
func (d *diary) monthSheets(page func(string) *sheet, days model.Range) []*sheet {
	var out []*sheet
	for date := days.From; date <= days.To; {
		y, m, _ := date.Time().Date()
		next := model.NewDate(y, m+1, 1)
		s := page(d.locale.Month(m) + " " + itoa(y))
		d.month(s, model.Range{From: model.NewDate(y, m, 1), To: next - 1})
		out = append(out, s)
		date = next
	}
	return out
}

func (d *diary) month(s *sheet, days model.Range) {
	at := s.page()
	k := scaleOf(at, 790.0*543) // 1 on A4
	text := max(leastText, 7.6*k)
	about := d.title
	if d.instrument != "" {
		about += ", " + d.instrument
	}
	head, heading, gutter := 36*k, 13*k, text*4.4
	foot := d.footer(s.fonts, days, at.w, at.h*0.3, text, footing{says: []string{weekSay}, names: true})
	d.heading(s, at.top(head), s.title, about, text, k)
	d.weekdays(s, box{at.x + gutter, at.y + head, at.w - gutter, heading}, text, at.w < 700*k)
	weeks := d.weeks(days)
	body := box{at.x, at.y + head + heading, at.w, at.h - head - heading - foot.height()}
	h := min(body.h/float64(len(weeks)), 150*k)
	for i, w := range weeks {
		d.monthRow(s, w, days, box{at.x, body.y + float64(i)*h, at.w, h}, gutter, text)
	}
	d.foot(s, at, foot)
}

// monthRow draws a week of a month; days of other months only as numbers.
func (d *diary) monthRow(s *sheet, week, days model.Range, at box, gutter, text float64) {
	_, n := d.locale.ISOWeekOf(week.From)
	m := measures{number: text * 1.6, text: text, bar: text * 0.95, figures: true}
	g := at.left(gutter).in(1, m.text*0.4)
	s.write(itoa(n), style{text * 1.3, true, quiet}, g)
	if load := d.sum(week); load > 0 {
		s.write(inHours(load), style{m.text, false, quiet}, g.below(text*1.7))
	}
	if other := d.Loads().During(week).Other; other > 0 {
		s.write("other", style{m.text, false, quiet}, g.below(text*2.9))
		s.write(inHours(other), style{m.text, false, quiet}, g.below(text*4.1))
	}
	w := (at.w - gutter) / 7
	for i := range 7 {
		date := week.From + model.Date(i)
		c := box{at.x + gutter + float64(i)*w, at.y, w, at.h}
		switch x := d.on(date); {
		case x != nil && days.Holds(date):
			d.cell(s, x, c, m)
		case !days.Holds(date):
			s.write(d.locale.Brief(date), style{m.text, false, quiet}, c.in(m.text*0.5, m.text*0.4))
		default: // of the month, but not of the season
			s.add(frame{c, 0.4, faint, false})
			s.write(itoa(date.Time().Day()), style{m.number, false, quiet}, c.in(m.text*0.5, m.text*0.4))
		}
	}
}

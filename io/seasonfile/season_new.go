package seasonfile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"golang.org/x/text/runes"
	"golang.org/x/text/transform"
	"golang.org/x/text/unicode/norm"

	"primaprova/model"
)

// FromTables writes a season file to w whose programmes are in tables; see
// season_table.go. Order is that of dates with strokes, as of services_from, or
// empty; from today on dates without a year are counted. Without a first day in o
// the season begins when the first part arrives, or today where that is past; it
// ends on the day of its last service. It gives the columns that were passed over.
// An error about the input is an Errors with every fault, in the lines of the tables.
func FromTables(w io.Writer, paths []string, o Start, order string, today model.Date) (passed []string, err error) {
	s := &sheets{r: &reader{places: map[string]Place{}, spoiled: map[string]bool{}, above: map[string]bool{}, others: map[string]Named{}},
		order: order, base: today, habits: model.DefaultHabits(), rows: map[string]row{}, lasts: map[string]model.Service{}}
	if o.From != 0 {
		s.base = o.From
	}
	if o.Earlier != nil {
		s.habits = o.Earlier.Season.Habits
	}
	type named struct {
		path string
		b    []byte
	}
	var tables []named
	for _, path := range paths {
		b, err := load(path)
		var wrong Errors
		if errors.As(err, &wrong) {
			s.r.faults = append(s.r.faults, wrong...)
		} else if bad := unreadable(path, newText(b)); bad != nil {
			s.r.faults = append(s.r.faults, *bad)
		} else {
			tables = append(tables, named{path, b})
		}
	}
	// A table with bars may be one of passages alone, of works that stand in another.
	slices.SortStableFunc(tables, func(a, b named) int { return withBars(a.b) - withBars(b.b) })
	if s.order == "" {
		var all []byte
		for _, t := range tables {
			all = append(all, t.b...)
		}
		s.order = strokes(all)
	}
	for _, t := range tables {
		s.table(t.path, t.b)
	}
	if len(s.r.faults) > 0 {
		return nil, s.told(nil)
	}
	s.days(&o, today)
	o.Programmes = programmesText(s.programmes, s.habits)
	var out bytes.Buffer
	err = New(&out, o)
	var wrong Errors
	if errors.As(err, &wrong) {
		return nil, s.told(wrong)
	}
	if err == nil {
		_, err = w.Write(out.Bytes())
	}
	return s.passed, err
}

// days fills in the dates that the tables leave open.
func (s *sheets) days(o *Start, today model.Date) {
	var first, last model.Date
	told := false
	for i := range s.programmes {
		p := &s.programmes[i]
		for j := range p.Parts {
			if p.Parts[j].Arrives == 0 && j > 0 {
				p.Parts[j].Arrives = p.Parts[j-1].Arrives
			}
			if a := p.Parts[j].Arrives; a != 0 {
				told = true
				if first == 0 || a < first {
					first = a
				}
			}
		}
		for _, v := range p.Services {
			if last = max(last, v.Date); first == 0 || v.Date < first {
				first = v.Date
			}
		}
	}
	if o.From == 0 {
		if o.From = first; !told || first < today && today < last {
			o.From = today
		}
	}
	if o.To == 0 {
		o.To = max(last, o.From)
	}
	for i := range s.programmes {
		for j := range s.programmes[i].Parts {
			if a := &s.programmes[i].Parts[j].Arrives; *a == 0 {
				*a = o.From
			}
		}
	}
}

// told gives faults in the lines of the tables: those of the tables, and of the
// season that they make.
func (s *sheets) told(season Errors) Errors {
	out := Errors(slices.Clone(s.r.faults))
	for _, f := range season {
		if at, ok := around(s.r.places, f.Path); ok {
			f.File, f.Line, f.Column = at.File, at.Line, at.Column
		}
		out = append(out, f)
	}
	inOrder(out, "")
	return out
}

// withBars is 1 for a table that has a column bars, else 0.
func withBars(b []byte) int {
	first, _, _ := bytes.Cut(b, []byte("\n"))
	if regexp.MustCompile(`(?i)(^|[;,\t"])\s*bars\s*($|[;,\t"])`).Match(bytes.TrimSpace(first)) {
		return 1
	}
	return 0
}

var strokedCell = regexp.MustCompile(`(?:^|[;,\t"\n\s])(\d{1,2})/(\d{1,2})(?:/\d{2,4})?(?:$|[;,\t"\r\n\s])`)

// strokes gives the order of dates with strokes, where one of them tells it; else "".
func strokes(b []byte) string {
	day, month := false, false
	for _, m := range strokedCell.FindAllSubmatch(bytes.ReplaceAll(b, []byte(";"), []byte(";;")), -1) {
		one, _ := strconv.Atoi(string(m[1]))
		two, _ := strconv.Atoi(string(m[2]))
		day, month = day || one > 12, month || two > 12
	}
	switch {
	case day && !month:
		return dateOrders[0]
	case month && !day:
		return dateOrders[1]
	}
	return ""
}

// idOf makes an id of a title: the first word of four letters or more, and as many
// after it as it takes to be no other's.
func idOf(title, otherwise string, taken []string) string {
	plain, _, _ := transform.String(transform.Chain(norm.NFD, runes.Remove(runes.In(unicode.Mn))), title)
	var words []string
	for _, w := range strings.Split(cleaned(strings.ToLower(plain)), "-") {
		if w = strings.Trim(w, "."); len(w) > 3 {
			words = append(words, w)
		}
	}
	if len(words) == 0 {
		words = append(words, cleaned(strings.ToLower(plain)))
	}
	if words[0] == "" {
		words[0] = otherwise
	}
	id := ""
	for _, w := range words {
		if id = strings.TrimPrefix(id+"-"+w, "-"); !slices.Contains(taken, id) && len(id) <= longest-4 {
			return id
		}
	}
	id = words[0][:min(len(words[0]), longest-4)]
	for n := 2; ; n++ {
		if next := fmt.Sprintf("%s-%d", id, n); !slices.Contains(taken, next) {
			return next
		}
	}
}

var (
	yearless = regexp.MustCompile(`^(?:\d{1,2}\.\s?\d{1,2}\.?|\d{1,2}/\d{1,2}|\d{1,2}\.?\s?\p{L}+\.?|\p{L}+\.?\s\d{1,2})$`)
	twoDigit = regexp.MustCompile(`^(\d{1,2}[./]\d{1,2}[./])(\d{2})$`)
)

// date reads a date, with strokes in the order that is known, with a year of two
// digits or without one.
func (s *sheets) date(f field, to *model.Date) {
	value(s.r, f, to, func(text string) (model.Date, error) {
		if m := twoDigit.FindStringSubmatch(text); m != nil {
			text = m[1] + "20" + m[2]
		}
		if !yearless.MatchString(text) {
			return s.dated(text)
		}
		for _, year := range []int{s.base.Time().Year(), s.base.Time().Year() + 1} {
			d, err := s.dated(withYear(text, year))
			if err != nil || d >= s.base {
				return d, err
			}
		}
		return 0, advised{text: "is not a date like 2027-01-31"}
	})
}

func withYear(s string, year int) string {
	switch {
	case strings.Contains(s, "/"):
		return fmt.Sprintf("%s/%d", s, year)
	case strings.ContainsFunc(s, func(r rune) bool { return r >= 'A' && r != '.' }):
		return fmt.Sprintf("%s %d", s, year)
	}
	return fmt.Sprintf("%s.%d", strings.TrimSuffix(s, "."), year)
}

func (s *sheets) dated(text string) (model.Date, error) {
	if strings.Count(text, "/") == 2 && s.order != "" {
		return parseForeignDate(text, s.order)
	}
	return parseDate(text)
}

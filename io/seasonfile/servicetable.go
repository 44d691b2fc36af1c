package seasonfile

import (
	"fmt"
	"slices"
	"strings"

	"primaprova/model"
)

// serviceColumns are the columns of a table of services. A table has a date, a
// start, and an end or a length; the rest may be missing. A level in dB(A) is one
// only where the season file says which column it is: the word has other meanings.
var serviceColumns = []string{"date", "start", "end", "lasts", "title", "kind", "programme", "playing", "level"}

// dateOrders are the ways in which a table may write dates with strokes.
var dateOrders = []string{"day/month/year", "month/day/year", "year-month-day"}

// columns reads what a table calls its columns: {date: Datum, start: Beginn}.
func (r *reader) columns(f field, to *map[string]string) bool {
	own := map[string]string{}
	var keys []key
	for _, name := range serviceColumns {
		keys = append(keys, key{name: name, read: func(f field) bool {
			var called string
			ok := r.words(f, &called)
			own[name] = called
			return ok
		}})
	}
	*to = own
	return r.table(f, keys...).good
}

// serviceTable reads a table of services. Columns that it does not know are none
// of its business: the table is the orchestra's.
func (r *reader) serviceTable(src *source, s *model.Season) ([]announced, bool) {
	path, b, ok := r.named(src.file)
	src.path = path
	if !ok {
		return nil, false
	}
	var out []announced
	var header map[string]int
	whole := r.rows(path, b, "services", func(cells []field) bool {
		row := make([]string, len(cells))
		for i, c := range cells {
			row[i] = c.value
		}
		at := Place{File: path, Line: cells[0].place.Line, Column: 1, Offset: -1, End: -1}
		if header == nil {
			header = r.serviceHeader(row, src, at)
			return header != nil
		}
		a, good := r.serviceRow(row, header, src, at, s)
		if ok = ok && good; good && a != nil {
			out = append(out, *a)
		}
		return true
	})
	if !whole {
		return nil, false
	}
	slices.SortStableFunc(out, func(a, b announced) int {
		if a.date != b.date {
			return int(a.date - b.date)
		}
		return int(a.start - b.start)
	})
	return out, ok
}

func (r *reader) serviceHeader(row []string, src *source, at Place) map[string]int {
	header := map[string]int{}
	for _, name := range serviceColumns {
		own, named := src.columns[name]
		if !named && name == "level" {
			continue
		}
		if !named {
			own = name
		}
		i := slices.IndexFunc(row, func(cell string) bool { return strings.EqualFold(cell, own) })
		if i >= 0 {
			header[name] = i
		} else if named || name == "date" || name == "start" {
			r.wrong(field{place: at}, "columns: {date: …, start: …, end: …, title: …}, with the table's own words", "the column %s is missing", own)
			return nil
		}
	}
	if _, end := header["end"]; !end {
		if _, lasts := header["lasts"]; !lasts {
			r.wrong(field{place: at}, "columns: {end: …}, with the table's own word", "there is no column end and none lasts")
			return nil
		}
	}
	return header
}

// serviceRow reads one row; nil for one without anything in it.
func (r *reader) serviceRow(row []string, header map[string]int, src *source, at Place, s *model.Season) (*announced, bool) {
	if strings.Join(row, "") == "" {
		return nil, true
	}
	cell := func(name string) field {
		f := field{path: name, place: at}
		if i, ok := header[name]; ok && i < len(row) {
			f.value = row[i]
		}
		return f
	}
	a := &announced{place: at, title: cell("title").value, kind: strings.ToLower(cell("kind").value), programme: cell("programme").value, playing: -1}
	a.words = strings.ToLower(strings.Join(row, "\n"))
	ok := value(r, cell("date"), &a.date, func(text string) (model.Date, error) { return parseForeignDate(text, src.dates) })
	a.last = a.date
	if f := cell("start"); f.value != "" {
		a.timed = true
		ok = value(r, f, &a.start, parseForeignClock) && ok
	}
	if f := cell("end"); f.value != "" && a.timed {
		var end model.Clock
		ok = value(r, f, &end, parseForeignClock) && ok
		if end <= a.start {
			end += 24 * 60 // after midnight
		}
		a.lasts = model.Minutes(end - a.start)
	}
	if f := cell("lasts"); f.value != "" {
		ok = r.minutes(f, &a.lasts) && ok
	}
	if f := cell("playing"); f.value != "" {
		ok = r.percent(f, &a.playing) && ok
	}
	if f := cell("level"); f.value != "" {
		ok = r.level(f, &a.level) && ok
	}
	if f := cell("programme"); f.value != "" && !known(s, f.value) {
		r.wrong(f, Nearest(f.value, programmeIDs(s)), "no programme has this id")
		ok = false
	}
	return a, ok
}

// parseForeignDate reads 2027-02-03, 3.2.2027, and with strokes what the season
// file says of them: 3/2/2027 is in March for some and in February for others.
func parseForeignDate(s, order string) (model.Date, error) {
	if d, err := model.SaidDate(s); err == nil {
		return d, nil
	}
	var y, m, d int
	form := ""
	switch {
	case strings.Count(s, ".") == 2:
		form = "day/month/year"
		s = strings.ReplaceAll(s, ".", "/")
	case strings.Count(s, "/") == 2:
		form = order
		if order == "" {
			return 0, advised{"is a date that can be read in two ways", "dates: " + dateOrders[0] + " beside file:, or " + dateOrders[1]}
		}
	}
	switch form {
	case "day/month/year":
		fmt.Sscanf(s, "%d/%d/%d", &d, &m, &y)
	case "month/day/year":
		fmt.Sscanf(s, "%d/%d/%d", &m, &d, &y)
	default:
		return 0, advised{text: "is not a date like 2027-01-31"}
	}
	return parseDate(fmt.Sprintf("%04d-%02d-%02d", y, m, d))
}

// parseForeignClock reads 19:30, 9:30, 19.30 and 19:30:00.
func parseForeignClock(s string) (model.Clock, error) {
	t := strings.ReplaceAll(s, ".", ":")
	if strings.Count(t, ":") == 2 {
		t = strings.TrimSuffix(t, ":00")
	}
	if strings.IndexByte(t, ':') == 1 {
		t = "0" + t
	}
	c, err := model.ParseClock(t)
	if err != nil {
		return 0, advised{text: "is not a time of day like 19:30"}
	}
	return c, nil
}

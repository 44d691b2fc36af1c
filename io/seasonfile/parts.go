package seasonfile

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"primaprova/model"
)

// tables reads the parts that a programme takes from a table, with the keys of a
// part as its header. With a column programme, only the rows of this programme are
// its parts.
func (r *reader) tables(f field, s *model.Season, p *model.Programme) {
	r.tableAt(f, "parts_from", func(path string, b []byte) { r.partTable(path, b, f.path, s, p) })
}

func (r *reader) partTable(path string, b []byte, programme string, s *model.Season, p *model.Programme) {
	r.rowsOf(path, b, "parts", s, p, append([]string{"programme"}, partKeys...), []string{"id", "arrives"}, func(t table) { r.partRow(t, programme, s, p) })
}

// rowsOf reads those rows of a table below its header that are a programme's.
func (r *reader) rowsOf(path string, b []byte, what string, s *model.Season, p *model.Programme, columns, needed []string, each func(table)) {
	var header []string
	r.rows(path, b, what, func(cells []field) bool {
		if header == nil {
			header = r.header(cells, columns, needed...)
			return header != nil
		}
		if t, ok := r.rowOf(header, cells, s, p); ok {
			each(t)
		}
		return true
	})
}

// tableAt reads a table that a key of a programme names.
func (r *reader) tableAt(f field, key string, read func(path string, b []byte)) {
	n := under(f.node, key)
	if n == nil {
		return
	}
	from := field{path: join(f.path, key), node: n, place: r.text.place(r.file, n)}
	faults := len(r.faults)
	if path, b, ok := r.named(from); ok {
		read(path, b)
	}
	if len(r.faults) > faults {
		// Rows may be missing, and with them parts of this programme.
		r.spoil(f.path + ".parts")
	}
}

// header reads the names of the columns, of which some must be there.
func (r *reader) header(cells []field, known []string, needed ...string) []string {
	var out []string
	for _, c := range cells {
		name := c.value
		switch {
		case !slices.Contains(known, name):
			c.value = ""
			c.path = name
			r.unknown(c, name, known)
			return nil
		case slices.Contains(out, name):
			r.wrong(c, "", "this column is given twice")
			return nil
		}
		out = append(out, name)
	}
	for _, must := range needed {
		if !slices.Contains(out, must) {
			at := cells[0]
			at.value = ""
			r.wrong(at, "", "the column %s is missing", must)
			return nil
		}
	}
	return out
}

// rowOf gives the cells of a row that is a programme's, by column. An empty cell is a
// key that is not given.
func (r *reader) rowOf(header []string, cells []field, s *model.Season, p *model.Programme) (table, bool) {
	t := table{r: r, at: field{place: cells[0].place}, fields: map[string]field{}}
	if len(cells) != len(header) {
		r.wrong(t.at, "", "this row has %d cells, the header has %d", len(cells), len(header))
		return t, false
	}
	for i, name := range header {
		c := cells[i]
		switch {
		case name == "programme" && c.value != p.ID:
			if !known(s, c.value) {
				c.path = name
				r.wrong(c, Nearest(c.value, programmeIDs(s)), "no programme has this id")
			}
			return t, false
		case name != "programme" && c.value != "":
			t.fields[name] = c
		}
	}
	return t, true
}

// partRow reads one part.
func (r *reader) partRow(t table, programme string, s *model.Season, p *model.Programme) {
	t.at.path = fmt.Sprintf("%s.parts[%d]", programme, len(p.Parts))
	r.places[t.at.path] = t.at.place
	for name, c := range t.fields {
		c.path = join(t.at.path, name)
		t.fields[name], r.places[c.path] = c, c.place
	}
	r.part(t, &s.Habits, p)
}

func known(s *model.Season, programme string) bool {
	return slices.Contains(programmeIDs(s), programme)
}

func programmeIDs(s *model.Season) []string {
	var ids []string
	for _, p := range s.Programmes {
		ids = append(ids, p.ID)
	}
	return ids
}

// passageColumns are the columns of a table of passages (passages_from): whose they
// are, then their keys.
var passageColumns = []string{"programme", "part", "id", "bars", "hard", "exposed", "minutes", "due", "found", "daily", "tempo", "strains"}

// passageTables reads the passages that a programme's parts take from a table. Those
// that the season file lists come first.
func (r *reader) passageTables(f field, s *model.Season, p *model.Programme) {
	r.tableAt(f, "passages_from", func(path string, b []byte) { r.passageTable(path, b, f.path, s, p) })
}

func (r *reader) passageTable(path string, b []byte, programme string, s *model.Season, p *model.Programme) {
	r.rowsOf(path, b, "passages", s, p, passageColumns, []string{"part", "bars"}, func(t table) { r.passageRow(t, programme, p) })
	for j := range p.Parts {
		nameByBars(p.Parts[j].Passages)
	}
}

// passageRow reads one passage. An empty cell is a key that is not given.
func (r *reader) passageRow(t table, programme string, p *model.Programme) {
	of, ok := t.fields["part"]
	j := slices.IndexFunc(p.Parts, func(q model.Part) bool { return q.ID == of.value })
	if j < 0 {
		var ids []string
		for _, q := range p.Parts {
			ids = append(ids, q.ID)
		}
		if of.path = "part"; !ok {
			of.place = t.at.place
		}
		r.wrong(of, Nearest(of.value, ids), "no part of %s has this id", p.ID)
		return
	}
	part := &p.Parts[j]
	path := fmt.Sprintf("%s.parts[%d].passages[%d]", programme, j, len(part.Passages))
	r.places[path] = t.at.place
	for name, c := range t.fields {
		c.path = join(path, name)
		t.fields[name], r.places[c.path] = c, c.place
	}
	delete(t.fields, "part")
	t.at.path = path
	q := model.Passage{Hard: 2}
	t.read(
		opt("id", &q.ID, r.id),
		must("bars", &q.Bars, r.tableBars),
		opt("hard", &q.Hard, by(r, parseDifficulty)),
		opt("exposed", &q.Exposed, by(r, parseTick)),
		opt("minutes", &q.Minutes, r.minutes),
		opt("due", &q.Due, r.date),
		opt("found", &q.Found, r.date),
		opt("daily", &q.Daily, by(r, parseTick)),
		opt("tempo", &q.Tempo, r.tempos),
		opt("strains", &q.Strains, r.words),
	)
	part.Passages = append(part.Passages, q)
}

// asDate finds what spreadsheets make of bars like 1-4: 1-Apr, 04.01.2027, 2027-01-04.
var asDate = regexp.MustCompile(`^(\d{1,2}[-. ]\p{L}{3,}.*|\p{L}{3,}[- ]\d{1,2}|\d{1,2}[./]\d{1,2}[./]\d{2,4}|\d{4}-\d{2}-\d{2}.*)$`)

// tableBars reads bars, which spreadsheets like to take for dates.
func (r *reader) tableBars(f field, to *string) bool {
	if asDate.MatchString(f.value) {
		r.wrong(f, "the column as text in the spreadsheet, before its bars are typed in", "looks like a date that a spreadsheet made of bars")
		return false
	}
	return r.bars(f, to)
}

// tempos reads a goal, or what works now and the goal: 60-96.
func (r *reader) tempos(f field, to *model.Pace) (ok bool) {
	ok = true
	now, goal, two := strings.Cut(f.value, "-")
	if !two {
		now, goal = "", now
	}
	for _, x := range []struct {
		text string
		to   *model.Tempo
	}{{now, &to.Now}, {goal, &to.Goal}} {
		if f.value = strings.TrimSpace(x.text); f.value != "" {
			ok = value(r, f, x.to, parseTempo) && ok
		}
	}
	return ok
}

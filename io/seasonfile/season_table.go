package seasonfile

import (
	"fmt"
	"slices"
	"strings"

	"primaprova/model"
)

// A season may begin as a spreadsheet: one table, or several, saved as CSV. A row
// is what its cells say: with a date a service, with a work a part, with bars a
// passage of the work; one row may be a part and its first passage. What a row
// leaves open is as above it:
//
//   - programme and work: those of the row above;
//   - what a service is: what the one above is, in its programme;
//   - start, lasts, playing and travel of a service: those of the service of its
//     kind above, in its programme if there is one;
//   - arrives: that of the part above in its programme, else the season's first day.
//
// Columns, in any order and case: those of seasonColumns. Others are passed over,
// but for one that is nearly one of these. The words are those of the season file's keys.

var (
	serviceCells  = []string{"service", "date", "start", "end", "lasts", "playing", "travel"}
	partCells     = []string{"work", "arrives", "listening", "read_through", "recordings", "estimate"}
	passageCells  = []string{"bars", "hard", "exposed", "minutes", "tempo", "strains"}
	seasonColumns = slices.Concat([]string{"programme"}, serviceCells, partCells, passageCells)
)

// sheets are the tables of a season while they are read.
type sheets struct {
	r          *reader
	order      string // of dates with strokes; empty: not known
	habits     model.Habits
	base       model.Date // dates without a year are the first such days from here on
	programmes []model.Programme
	rows       map[string]row // of each part, its own row, by path
	lasts      map[string]model.Service
	passed     []string // columns that are none

	programme, part int // of the row above; -1: none
}

// row is a line of a table, its cells by column.
type row struct {
	at    field
	cells map[string]field
}

func (w row) has(names ...string) bool {
	return slices.ContainsFunc(names, func(n string) bool { return w.cells[n].value != "" })
}

// read calls how where a cell is filled in.
func (w row) read(name string, how func(field)) {
	if c := w.cells[name]; c.value != "" {
		c.path = name
		how(c)
	}
}

// lacks gives the place of a cell that ought to be filled in.
func (w row) lacks(name string) field { return field{path: name, place: w.at.place} }

// table reads one table.
func (s *sheets) table(path string, b []byte) {
	s.programme, s.part = -1, -1
	var header []string
	s.r.rows(path, b, "a season", func(cells []field) bool {
		at := field{place: cells[0].place}
		if header == nil {
			header = s.header(cells)
			return header != nil
		}
		w := row{at, map[string]field{}}
		for i, c := range cells {
			if i >= len(header) && c.value != "" {
				s.r.wrong(at, "", "this row has %d cells, the header has %d", len(cells), len(header))
				return true
			}
			if i < len(header) {
				w.cells[header[i]] = c
			}
		}
		delete(w.cells, "")
		if w.has(seasonColumns...) {
			s.row(w)
		}
		return true
	})
}

func (s *sheets) header(cells []field) []string {
	var out []string
	for _, c := range cells {
		name := strings.ToLower(strings.NewReplacer("-", "_", " ", "_").Replace(c.value))
		switch near := Nearest(name, seasonColumns); {
		case name == "":
		case slices.Contains(seasonColumns, name) && slices.Contains(out, name):
			s.r.wrong(c, "", "this column is given twice")
			return nil
		case !slices.Contains(seasonColumns, name) && near != "":
			s.r.wrong(c, near, "this column is not known")
			return nil
		case !slices.Contains(seasonColumns, name):
			s.passed, name = append(s.passed, c.value), ""
		}
		out = append(out, name)
	}
	if !slices.ContainsFunc(out, func(n string) bool { return n != "" }) {
		at := cells[0]
		at.value = ""
		s.r.wrong(at, "a first row that names the columns: "+strings.Join(seasonColumns, ", "), "no column is known")
		return nil
	}
	return out
}

func (s *sheets) row(w row) {
	if !s.where(w) {
		return
	}
	switch {
	case w.has("work"):
		s.work(w)
	case w.has(partCells...):
		s.r.wrong(w.at, "the work's title in the column work", "no work is named")
		return
	}
	if w.has(serviceCells...) {
		s.service(w)
	}
	switch {
	case w.has("bars") && s.part < 0:
		s.r.wrong(w.at, "the work's title in the column work", "a passage of which work?")
	case w.has("bars"):
		s.passage(w)
	case w.has(passageCells...):
		s.r.wrong(w.at, "its bars in the column bars", "a passage has no bars")
	}
}

// where finds the programme of a row, or begins one.
func (s *sheets) where(w row) bool {
	title := w.cells["programme"].value
	if title == "" {
		_, column := w.cells["programme"]
		work := w.cells["work"].value
		for i := range s.programmes { // a table of passages alone may do with works
			if !column && s.partOf(i, work) >= 0 {
				s.programme = i
				return true
			}
		}
		if s.programme < 0 && len(s.programmes) == 1 {
			s.programme = 0
		}
		if s.programme < 0 {
			s.r.wrong(w.at, "its title in the column programme", "of which programme?")
		}
		return s.programme >= 0
	}
	i := slices.IndexFunc(s.programmes, func(p model.Programme) bool { return strings.EqualFold(p.Title, title) || p.ID == title })
	if i < 0 {
		if _, err := parseWords(title); err != nil {
			s.r.wrong(w.cells["programme"], "", "%s", err)
			return false
		}
		i = len(s.programmes)
		s.programmes = append(s.programmes, model.Programme{Title: title, ID: idOf(title, "programme", programmeIDs(&model.Season{Programmes: s.programmes}))})
		s.r.places[fmt.Sprintf("programmes[%d]", i)] = w.at.place
	}
	if i != s.programme {
		s.programme, s.part = i, -1
	}
	return true
}

// partOf gives the place of a work in a programme, -1 where it has none.
func (s *sheets) partOf(programme int, work string) int {
	return slices.IndexFunc(s.programmes[programme].Parts, func(p model.Part) bool { return work != "" && (strings.EqualFold(p.Work, work) || p.ID == work) })
}

// work finds the part of a row, or begins one.
func (s *sheets) work(w row) {
	p := &s.programmes[s.programme]
	title := w.cells["work"].value
	if i := s.partOf(s.programme, title); i >= 0 {
		s.part = i
		s.again(w, fmt.Sprintf("programmes[%d].parts[%d]", s.programme, i))
		return
	}
	if _, err := parseWords(title); err != nil {
		s.r.wrong(w.cells["work"], "", "%s", err)
	}
	var taken []string
	for i := range s.programmes { // one name in the whole season, so that it will do alone on a command line
		for j := range s.programmes[i].Parts {
			taken = append(taken, s.programmes[i].Parts[j].ID)
		}
	}
	s.part = len(p.Parts)
	path := fmt.Sprintf("programmes[%d].parts[%d]", s.programme, s.part)
	part := model.Part{ID: idOf(title, "part", taken), Work: title, Listening: s.habits.Listening, ReadThrough: s.habits.ReadThrough, Recordings: s.habits.Recordings}
	s.r.places[path], s.rows[path] = w.at.place, w
	w.read("arrives", func(f field) { s.date(f, &part.Arrives) })
	for name, to := range map[string]*model.Minutes{"listening": &part.Listening, "read_through": &part.ReadThrough, "recordings": &part.Recordings, "estimate": &part.Estimate} {
		w.read(name, func(f field) { s.length(f, to) })
	}
	p.Parts = append(p.Parts, part)
}

// again wants what a later row says of a part to be what the first one says.
func (s *sheets) again(w row, path string) {
	first := s.rows[path]
	for _, name := range partCells[1:] {
		if c := w.cells[name]; c.value != "" && c.value != first.cells[name].value {
			c.path = name
			s.r.wrong(c, "say it once", "is otherwise in line %d, where this work begins", first.at.place.Line)
		}
	}
}

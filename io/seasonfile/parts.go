package seasonfile

import (
	"fmt"
	"slices"

	"primaprova/model"
)

// tables reads the parts that a programme takes from a table, with the keys of a
// part as its header. With a column programme, only the rows of this programme are
// its parts.
func (r *reader) tables(f field, s *model.Season, p *model.Programme) {
	r.tableAt(f, "parts_from", func(path string, b []byte) { r.partTable(path, b, f.path, s, p) })
}

func (r *reader) partTable(path string, b []byte, programme string, s *model.Season, p *model.Programme) {
	var header []string
	r.rows(path, b, "parts", func(cells []field) bool {
		if header == nil {
			header = r.header(cells, append([]string{"programme"}, partKeys...), "id", "arrives")
			return header != nil
		}
		if t, ok := r.rowOf(header, cells, s, p); ok {
			r.partRow(t, programme, s, p)
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

package seasonfile

import (
	"fmt"
	"slices"

	"primaprova/model"
)

// tables reads the parts that a programme takes from a table.
func (r *reader) tables(f field, s *model.Season, p *model.Programme) {
	if f.node == nil {
		return
	}
	for i := 0; i+1 < len(f.node.Content); i += 2 {
		if f.node.Content[i].Value != "parts_from" {
			continue
		}
		n := f.node.Content[i+1]
		from := field{path: join(f.path, "parts_from"), node: n, place: r.text.place(r.file, n)}
		faults := len(r.faults)
		if path, b, ok := r.named(from); ok {
			r.partTable(path, b, f.path, s, p)
		}
		if len(r.faults) > faults {
			// Rows may be missing, and with them parts of this programme.
			r.spoil(f.path + ".parts")
		}
		return
	}
}

// partTable reads a table of parts, with the keys of a part as its header. With a
// column programme, only the rows of this programme are its parts.
func (r *reader) partTable(path string, b []byte, programme string, s *model.Season, p *model.Programme) {
	var header []string
	r.rows(path, b, "parts", func(cells []field) bool {
		if header == nil {
			header = r.header(cells)
			return header != nil
		}
		r.row(header, cells, programme, s, p)
		return true
	})
}

func (r *reader) header(cells []field) []string {
	known := append([]string{"programme"}, partKeys...)
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
	for _, must := range []string{"id", "arrives"} {
		if !slices.Contains(out, must) {
			at := cells[0]
			at.value = ""
			r.wrong(at, "", "the column %s is missing", must)
			return nil
		}
	}
	return out
}

// row reads one part. An empty cell is a key that is not given.
func (r *reader) row(header []string, cells []field, programme string, s *model.Season, p *model.Programme) {
	path := fmt.Sprintf("%s.parts[%d]", programme, len(p.Parts))
	at := field{path: path, place: cells[0].place}
	if len(cells) != len(header) {
		at.path = ""
		r.wrong(at, "", "this row has %d cells, the header has %d", len(cells), len(header))
		return
	}
	t := table{r: r, at: at, fields: map[string]field{}}
	for i, name := range header {
		c := cells[i]
		if name == "programme" {
			if c.value != p.ID {
				if !known(s, c.value) {
					c.path = name
					r.wrong(c, Nearest(c.value, programmeIDs(s)), "no programme has this id")
				}
				return
			}
			continue
		}
		if c.value != "" {
			c.path = join(path, name)
			t.fields[name] = c
		}
	}
	r.places[path] = at.place
	for _, c := range t.fields {
		r.places[c.path] = c.place
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

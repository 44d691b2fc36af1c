package seasonfile

import (
	"bytes"
	"crypto/sha256"
	"encoding/csv"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"maps"
	"path/filepath"
	"slices"
	"strings"
)

// Named is another file that a season file names: a table of parts or a
// calendar of services.
type Named struct {
	Path   string // where it was found
	Source []byte // as it was read
}

// beside gives the path of a file that the season file names.
func (r *reader) beside(name string) string {
	if isAddress(name) {
		return discreet(name)
	}
	if filepath.IsAbs(name) {
		return name
	}
	return filepath.Join(r.dir, name)
}

// named reads a file that a field names. Its faults stand in the season file
// when there is no such file, and in the file itself otherwise. A file that is
// named twice is read once, so that both programmes see the same bytes.
func (r *reader) named(f field) (path string, b []byte, ok bool) {
	if path, b, ok = r.fetch(f, load); !ok {
		return "", nil, false
	}
	if bad := unreadable(path, newText(b)); bad != nil {
		r.faults = append(r.faults, *bad)
		return "", nil, false
	}
	return path, b, true
}

// fetch gives the bytes of a file that a field names.
func (r *reader) fetch(f field, load func(string) ([]byte, error)) (path string, b []byte, ok bool) {
	var name string
	if !r.words(f, &name) {
		return "", nil, false
	}
	if n, known := r.others[name]; known {
		path, b = n.Path, n.Source
	} else {
		if isAddress(name) {
			if b, ok = r.address(f, name); ok {
				r.others[name] = Named{discreet(name), b}
			}
			return discreet(name), b, ok
		}
		path = r.beside(name)
		var err error
		b, err = load(path)
		var wrong Errors
		if errors.As(err, &wrong) {
			for _, w := range wrong {
				r.wrong(f, w.Advice, "%s", w.Text)
			}
			return "", nil, false
		}
		r.others[name] = Named{path, b}
	}
	return path, b, true
}

// sum gives the checksum by which a plan knows the season it was made from. Of
// a season file that names no other it is the sha256 of its bytes. Of one that
// does, it is the sha256 of the lines that sha256sum prints for the season file
// and then for the others in the order of their names, each once and as the
// season file writes it; in the season's folder
//
//	sha256sum season.yaml orchestra.ics parts.csv | sha256sum
//
// gives the same.
func sum(path string, b []byte, others map[string]Named) string {
	digest := func(b []byte) string {
		sum := sha256.Sum256(b)
		return hex.EncodeToString(sum[:])
	}
	if len(others) == 0 {
		return digest(b)
	}
	var lines strings.Builder
	fmt.Fprintf(&lines, "%s  %s\n", digest(b), filepath.Base(path))
	for _, name := range slices.Sorted(maps.Keys(others)) {
		fmt.Fprintf(&lines, "%s  %s\n", digest(others[name].Source), name)
	}
	return digest([]byte(lines.String()))
}

// Changed gives the path of the file that an edit changes, "" where it changes
// nothing. An edit changes the season file or one table, never both.
func (f *File) Changed(read *File) string {
	if !bytes.Equal(f.Source, read.Source) {
		return f.Path
	}
	for _, name := range slices.Sorted(maps.Keys(f.Others)) {
		if n := f.Others[name]; !bytes.Equal(n.Source, read.Others[name].Source) {
			return n.Path
		}
	}
	return ""
}

// cell changes the arrival of a part that stands in a table. What holds the
// cell (quotes, blanks, the separator) stays.
func (f *File) cell(p Place, to string) (map[string]Named, error) {
	out := maps.Clone(f.Others)
	done := false
	for name, old := range f.Others { // one file may be named in two ways
		if old.Path != p.File || p.Offset < 0 || p.End < p.Offset || p.End > len(old.Source) {
			continue
		}
		text := to
		if was := old.Source[p.Offset:p.End]; len(was) > 1 && was[0] == '"' {
			text = `"` + to + `"`
		}
		out[name] = Named{old.Path, slices.Concat(old.Source[:p.Offset], []byte(text), old.Source[p.End:])}
		done = true
	}
	if !done {
		return nil, Errors{{File: p.File, Line: p.Line, Column: p.Column,
			Text: "is laid out in a way that can't be changed from here; nothing was written", Advice: "change this line in an editor"}}
	}
	return out, nil
}

// extent gives the bytes of a table's cell that begins at a line and column,
// both from 1, columns in bytes; quotes belong to it, blanks around it do not.
// A cell over several lines has none: -1.
func extent(b []byte, lines []int, line, column int, separator rune) (from, end int) {
	if line < 1 || line > len(lines) {
		return -1, -1
	}
	from = lines[line-1] + column - 1
	rest, _, _ := bytes.Cut(b[min(from, len(b)):], []byte("\n"))
	if len(rest) > 0 && rest[0] == '"' {
		for i := 1; i < len(rest); i++ {
			if rest[i] != '"' {
				continue
			}
			if i+1 < len(rest) && rest[i+1] == '"' {
				i++
				continue
			}
			return from, from + i + 1
		}
		return -1, -1
	}
	if i := bytes.IndexRune(rest, separator); i >= 0 {
		rest = rest[:i]
	}
	from += len(rest) - len(bytes.TrimLeft(rest, " "))
	return from, from + len(bytes.Trim(rest, " \t\r"))
}

// lineStarts gives the offset of each line's first byte by the line breaks of
// CSV, line feeds alone; a byte order mark is not part of the first line.
func lineStarts(b []byte) []int {
	out := []int{0}
	if bytes.HasPrefix(b, []byte(byteOrderMark)) {
		out[0] = len(byteOrderMark)
	}
	for i, c := range b {
		if c == '\n' {
			out = append(out, i+1)
		}
	}
	return out
}

// mostColumns is how many cells a row may have.
const mostColumns = 200

// rows goes through a table: comma, semicolon or tab between the cells, whichever
// the header uses. It ends early where each, which is given a row's cells with
// their places, the header's first, wants no more. It tells whether all could be
// read; what says what the table holds.
func (r *reader) rows(path string, b []byte, what string, each func(cells []field) bool) bool {
	in := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(b, []byte(byteOrderMark))))
	in.Comma = separator(b)
	in.TrimLeadingSpace = in.Comma != '\t' // which is space, too, and parts empty cells
	in.FieldsPerRecord = -1
	lines := lineStarts(b)
	for {
		row, err := in.Read()
		if err == io.EOF {
			return true
		}
		if err != nil {
			var e *csv.ParseError
			line := 0
			if errors.As(err, &e) {
				line, err = e.Line, e.Err
			}
			r.faults = append(r.faults, Fault{File: path, Line: line, Text: "is not a table of " + what + ": " + err.Error()})
			return false
		}
		if len(row) > mostColumns {
			line, _ := in.FieldPos(0)
			r.faults = append(r.faults, Fault{File: path, Line: line, Text: fmt.Sprintf("is not a table of %s: a row has more than %d cells", what, mostColumns)})
			return false
		}
		cells := make([]field, len(row))
		for i, cell := range row {
			line, column := in.FieldPos(i)
			from, end := extent(b, lines, line, column, in.Comma)
			cells[i] = field{value: strings.TrimSpace(cell), place: Place{File: path, Line: line, Column: column, Offset: from, End: end}}
		}
		if !each(cells) {
			return false
		}
	}
}

func separator(b []byte) rune {
	first, _, _ := bytes.Cut(b, []byte("\n"))
	for _, c := range ";\t" {
		if bytes.ContainsRune(first, c) {
			return c
		}
	}
	return ','
}

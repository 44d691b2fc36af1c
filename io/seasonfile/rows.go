package seasonfile

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
)

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

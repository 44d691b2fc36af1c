package seasonfile

import (
	"bytes"
	"sort"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"
)

// Place is where a value stands; a list or a table in the season file stands
// where its key does. Offset and End are bytes of the file as it is on disk,
// quotes included; End is -1 where the value is not a scalar on one line. In
// a calendar only the line is known, and Offset is -1 too.
type Place struct {
	File         string
	Line, Column int // counted from 1, columns in characters
	Offset, End  int
}

// text is a file's bytes with the beginnings of its lines.
type text struct {
	bytes []byte
	lines []int // offset of each line's first byte
	// The place found last. Values are looked up in the order of the file, and
	// a file may be one long line.
	lastLine, lastColumn, lastOffset int
}

// newText finds the lines by the line breaks of YAML 1.1, the ones that the
// parser counts: line feed, carriage return, both together, next line, line
// separator and paragraph separator.
func newText(b []byte) *text {
	t := &text{bytes: b, lines: []int{0}}
	for i := 0; i < len(b); {
		r, size := utf8.DecodeRune(b[i:])
		i += size
		switch r {
		case '\r':
			if i < len(b) && b[i] == '\n' {
				i++
			}
			t.lines = append(t.lines, i)
		case '\n', '\u0085', '\u2028', '\u2029':
			t.lines = append(t.lines, i)
		}
	}
	return t
}

// offset gives the byte of a line and column, -1 when there is none.
func (t *text) offset(line, column int) int {
	if line < 1 || line > len(t.lines) || column < 1 {
		return -1
	}
	at := t.lines[line-1]
	if line == 1 && bytes.HasPrefix(t.bytes, []byte(byteOrderMark)) {
		at += len(byteOrderMark)
	}
	from := 1
	if line == t.lastLine && column >= t.lastColumn {
		from, at = t.lastColumn, t.lastOffset
	}
	for ; from < column; from++ {
		if at >= len(t.bytes) {
			return -1
		}
		_, size := utf8.DecodeRune(t.bytes[at:])
		at += size
	}
	t.lastLine, t.lastColumn, t.lastOffset = line, column, at
	return at
}

// line gives the line (from 1) of a byte.
func (t *text) line(offset int) int {
	return sort.Search(len(t.lines), func(i int) bool { return t.lines[i] > offset })
}

// place finds a node in the file.
func (t *text) place(file string, n *yaml.Node) Place {
	p := Place{File: file, Line: n.Line, Column: n.Column, Offset: t.offset(n.Line, n.Column), End: -1}
	if n.Kind != yaml.ScalarNode || p.Offset < 0 {
		return p
	}
	end := len(t.bytes)
	if n.Line < len(t.lines) {
		end = t.lines[n.Line]
	}
	rest := t.bytes[p.Offset:end]
	switch {
	case n.Style&yaml.DoubleQuotedStyle != 0:
		p.End = p.Offset + quoted(rest, '"', '\\')
	case n.Style&yaml.SingleQuotedStyle != 0:
		p.End = p.Offset + quoted(rest, '\'', '\'')
	case n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) == 0 && bytes.HasPrefix(rest, []byte(n.Value)):
		p.End = p.Offset + len(n.Value)
	}
	if p.End < p.Offset {
		p.End = -1
	}
	return p
}

// quoted gives the length of the quoted scalar that begins s, or a negative
// number when it does not end on its line.
func quoted(s []byte, quote, escape byte) int {
	for i := 1; i < len(s); i++ {
		switch {
		case s[i] == '\n' || s[i] == '\r':
			return -len(s) - 1
		case s[i] == escape && i+1 < len(s) && (escape == '\\' || s[i+1] == quote):
			i++
		case s[i] == quote:
			return i + 1
		}
	}
	return -len(s) - 1
}

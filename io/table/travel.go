package table

import (
	"bufio"
	"encoding/csv"
	"io"
	"strconv"
	"strings"
	"unicode"
)

// CSV writes the table as comma-separated values (RFC 4180, with bare line
// feeds), the heading first. Tabs and line ends inside cells become blanks. Texts
// that a spreadsheet would take for a formula get a ' before them, since they may
// come from anybody (OWASP ASVS 5.0, 1.2.10); with formulas they stay as they are.
func (t *Table) CSV(w io.Writer, formulas bool) error {
	out := csv.NewWriter(w)
	for _, row := range t.all() {
		for i, c := range row {
			if !formulas && formula(c) {
				row[i] = "'" + c
			}
		}
		if len(row) == 1 && row[0] == "" {
			// A reader takes an empty line for no row at all.
			out.Flush()
			if _, err := io.WriteString(w, "\"\"\n"); err != nil {
				return err
			}
			continue
		}
		if err := out.Write(row); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// formula tells whether a spreadsheet would reckon with a cell; a number, with
// its sign, it may.
func formula(cell string) bool {
	text := strings.TrimLeft(cell, " ")
	if text == "" || !strings.ContainsRune("=+-@＝＋－＠", []rune(text)[0]) {
		return false
	}
	_, err := strconv.ParseFloat(text, 64)
	return err != nil
}

// Markdown writes the table in the form of GitHub Flavored Markdown, section
// 4.10: every column, numbers set against the right edge, cells padded so that
// the source can be read as well.
func (t *Table) Markdown(w io.Writer) error {
	rows := t.all()
	widths := make([]int, len(t.Columns))
	for _, row := range rows {
		for i, c := range row {
			row[i] = escaped(c)
			widths[i] = max(widths[i], Width(row[i]), 3)
		}
	}
	b := bufio.NewWriter(w)
	for n, row := range rows {
		for i, c := range row {
			pad := strings.Repeat(" ", widths[i]-Width(c))
			if t.Columns[i].Right {
				c = pad + c
			} else {
				c += pad
			}
			b.WriteString("| " + c + " ")
		}
		b.WriteString("|\n")
		if n > 0 {
			continue
		}
		for i, c := range t.Columns {
			dashes := strings.Repeat("-", widths[i]-1)
			if c.Right {
				b.WriteString("| " + dashes + ": ")
			} else {
				b.WriteString("| " + dashes + "- ")
			}
		}
		b.WriteString("|\n")
	}
	return b.Flush()
}

// InMarkdown writes a text as a line of its own that Markdown shows as it is:
// what would be taken for a mark has a backslash before it (CommonMark 0.31,
// section 2.4).
func InMarkdown(text string) string {
	text = escaped(text)
	digits := len(text) - len(strings.TrimLeft(text, "0123456789"))
	switch {
	case text == "":
	case strings.IndexByte("#+-=:", text[0]) >= 0:
		return "\\" + text
	case digits > 0 && digits < len(text) && (text[digits] == '.' || text[digits] == ')'): // "1." would begin a list
		return text[:digits] + "\\" + text[digits:]
	}
	return text
}

// escaped takes care of the marks that count anywhere in a line.
func escaped(text string) string {
	var b strings.Builder
	for _, r := range strings.Map(flat, strings.TrimFunc(text, unicode.IsSpace)) {
		if strings.ContainsRune("\\`*_[]<>|~&$", r) {
			b.WriteByte('\\')
		}
		b.WriteRune(r)
	}
	return b.String()
}

// all gives the heading and the rows, without control characters.
func (t *Table) all() [][]string {
	heading := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		heading[i] = c.Name
	}
	out := [][]string{heading}
	for _, r := range t.Rows {
		out = append(out, t.filled(r))
	}
	for _, row := range out {
		for i := range row {
			row[i] = strings.Map(flat, row[i])
		}
	}
	return out
}

package main

import (
	"bytes"
	"io"
	"regexp"
	"strings"
	"unicode/utf8"

	"primaprova/io/table"
	"primaprova/model"
)

// together finds what stays on one line: a date, an amount with its unit.
func (v *voice) together() *regexp.Regexp {
	var days []string
	for _, w := range v.locale.Week() {
		days = append(days, regexp.QuoteMeta(v.locale.ShortWeekday(w)))
	}
	date := `(?:` + strings.Join(days, "|") + `),? [^ ]+ [^ ]+`
	if v.locale.Dates == model.ISODates {
		date = strings.TrimSuffix(date, " [^ ]+")
	}
	return regexp.MustCompile(date + `|[\d.]+ (?:%|(?:am|pm|min|minutes|points|days?|visits?|\w+-days)\b)`)
}

const held = "\ue000" // a blank that wrap does not break at: a private letter, as wide as a blank

func hold(s string) string { return strings.ReplaceAll(s, " ", held) }

// pieces gives the words of a text. Scripts that put no blanks between words, whose
// letters are wide, are broken anywhere; a long name or address stays whole.
func pieces(s string, width int) (out []string) {
	for _, w := range strings.Fields(s) {
		if table.Width(w) > width && table.Width(w) > utf8.RuneCountInString(w) {
			n, from := 0, 0
			for i, r := range w {
				if n += table.Width(string(r)); n > width && i > from {
					out, from, n = append(out, w[from:i]), i, table.Width(string(r))
				}
			}
			w = w[from:]
		}
		out = append(out, w)
	}
	return out
}

// wrap breaks a text at blanks. Lines after the first are set in by as much as
// the text itself is, and by two more.
func wrap(s string, width int) []string {
	indent := len(s) - len(strings.TrimLeft(s, " "))
	lead := strings.Repeat(" ", indent)
	var out []string
	cur := ""
	for _, w := range pieces(s, width-indent-2) {
		switch {
		case cur == "":
			cur = lead + w
			lead = strings.Repeat(" ", indent+2)
		case table.Width(cur)+1+table.Width(w) <= width:
			cur += " " + w
		default:
			out = append(out, cur)
			cur = lead + w
		}
	}
	return append(out, cur)
}

// guard stands before the terminal: of all that is written, whoever it comes
// from, it lets no control character through but line ends and tabs, neither C0
// nor C1 (ECMA-48). What stood there is shown as U+FFFD.
type guard struct{ w io.Writer }

func (g guard) Write(p []byte) (int, error) {
	if _, err := g.w.Write(harmless(p)); err != nil {
		return 0, err
	}
	return len(p), nil
}

func harmless(p []byte) []byte {
	obeyed := func(r rune) bool {
		return r < ' ' && r != '\n' && r != '\t' || 0x7f <= r && r <= 0x9f || r == utf8.RuneError
	}
	if bytes.IndexFunc(p, obeyed) < 0 {
		return p
	}
	return bytes.Map(func(r rune) rune {
		if obeyed(r) {
			return utf8.RuneError
		}
		return r
	}, p)
}

// own writes what the program itself wants a terminal to obey.
func own(w io.Writer, s string) {
	if g, ok := w.(guard); ok {
		w = g.w
	}
	_, _ = io.WriteString(w, s)
}

package main

import (
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

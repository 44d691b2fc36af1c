package table

import (
	"strings"

	"github.com/clipperhouse/uax29/v2/graphemes"
	"github.com/olekukonko/tablewriter/pkg/twwidth"
)

// Width gives the columns of a terminal that a text takes: two for a wide
// letter (Unicode Standard Annex 11), none for an accent that is put on another.
func Width(s string) int { return twwidth.Width(s) }

// Wrap breaks a text at its blanks into lines of at most `width` columns. A word
// that is wider is cut, between two characters as a reader sees them (Unicode
// Standard Annex 29), never before an accent. An empty text is one empty line.
func Wrap(s string, width int) []string {
	var out []string
	line := ""
	for _, word := range strings.Fields(s) {
		for _, w := range pieces(word, width) {
			switch {
			case line == "":
				line = w
			case Width(line)+1+Width(w) <= width:
				line += " " + w
			default:
				out = append(out, line)
				line = w
			}
		}
	}
	return append(out, line)
}

func pieces(word string, width int) []string {
	if Width(word) <= width {
		return []string{word}
	}
	var out []string
	from, used := 0, 0
	for g := graphemes.FromString(word); g.Next(); {
		n := Width(g.Value())
		if used > 0 && used+n > width {
			out = append(out, word[from:g.Start()])
			from, used = g.Start(), 0
		}
		used += n
	}
	return append(out, word[from:])
}

// Bar draws value out of full as at most `cells` filled cells, and marks what
// goes beyond full. A value above 0 shows one cell at least, so that little
// does not look like nothing.
func Bar(value, full, cells int) string {
	if full <= 0 || cells <= 0 || value <= 0 {
		return ""
	}
	n := max(1, (value*cells+full/2)/full)
	if value > full {
		return strings.Repeat("█", cells) + "!"
	}
	return strings.Repeat("█", min(n, cells))
}

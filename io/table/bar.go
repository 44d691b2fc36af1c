package table

import "strings"

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

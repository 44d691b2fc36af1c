//go:build !windows

package main

import "os"

// sequences tells whether a terminal understands the sequences that set colours and lines.
func sequences(*os.File) bool { return true }

// What a shell takes for a part of a word, letters and digits apart, and for a quote between quotes.
const (
	plainly       = "_-./,:=@%+"
	quoteInQuotes = `'\''`
)

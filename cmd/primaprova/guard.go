package main

import (
	"bytes"
	"io"
	"unicode/utf8"
)

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

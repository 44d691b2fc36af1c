package main

import (
	"os"

	"golang.org/x/sys/windows"
)

// sequences makes a console understand the sequences that set colours and lines, and tells
// whether it does: consoles before Windows Terminal have to be asked. Letters need nothing, since
// what goes to a console is written as UTF-16.
func sequences(f *os.File) bool {
	console := windows.Handle(f.Fd())
	var mode uint32
	if err := windows.GetConsoleMode(console, &mode); err != nil {
		return false
	}
	return windows.SetConsoleMode(console, mode|windows.ENABLE_VIRTUAL_TERMINAL_PROCESSING) == nil
}

// What PowerShell takes for a part of a word, letters and digits apart, and for a quote between quotes.
const (
	plainly       = `_-./\:=@%+`
	quoteInQuotes = "''"
)

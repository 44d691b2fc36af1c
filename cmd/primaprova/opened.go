package main

import "github.com/spf13/cobra"

// opened is said where Windows opened the program by a double click, in the window that comes
// up for it; cobra finds that out, and keeps the window until Return.
const opened = `primaprova plans an orchestral player's practice. It is a program for a terminal.

Click with the right button into the folder it lies in, choose "Open in Terminal", and type

    .\primaprova new       writes season.yaml, a season file to start from
    .\primaprova plan      fills the calendar
    .\primaprova show      says what to play today

`

func init() {
	cobra.MousetrapHelpText = opened
	cobra.MousetrapDisplayDuration = 0 // until Return
}

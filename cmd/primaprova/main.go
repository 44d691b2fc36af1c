// Command primaprova plans the work on an orchestral season's parts, so that
// each is ready at its first rehearsal and no day asks too much of the body.
//
// This folder holds flags, settings, wiring, exit codes and everything that is
// said to the user; one file a command. What a season is, how it is planned and
// what files look like live elsewhere.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime"
	_ "time/tzdata" // the binary alone must know every time zone

	"github.com/spf13/cobra"

	"primaprova/solver/ortools"
)

// The exit codes.
const (
	exitDone     = 0
	exitInternal = 1 // a fault of this program, or of the machine under it
	exitInput    = 2 // the input is wrong: a file, a flag, a setting
	exitLeftOut  = 3 // done, but the plan leaves out what the setting left_out says
	exitStopped  = 4 // stopped before there was a plan that could be used
)

func main() {
	os.Exit(begin(os.Args[1:]))
}

// run does what the arguments ask for and gives the exit code. Settings come
// from the process's environment too.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	a := &app{in: stdin, say: newVoice(stdout, stderr)}
	root := rootCommand(a)
	root.SetArgs(args)
	command := "primaprova"
	if c, _, err := root.Find(args); err == nil {
		command = c.CommandPath()
	}
	err := unbroken(command, func() error { return root.ExecuteContext(context.Background()) })
	if a.say.broken != nil && err == nil {
		err = a.say.broken
	}
	if err == nil {
		return exitDone
	}
	var t *trouble
	if !errors.As(err, &t) {
		t = &trouble{code: exitInternal, lines: []string{err.Error(), "This is a fault of primaprova, not of your season."}}
	}
	a.say.trouble(t)
	return t.code
}

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

// version and commit are set when a release is built (make release).
var (
	version = "not a release"
	commit  = "unknown"
)

// versionText gives what --version says: the program, what it was built from, for which system, and
// the release of the engines it was written for.
func versionText() string {
	return fmt.Sprintf("primaprova %s\ncommit %s, %s, %s\nengines: HiGHS and CP-SAT of OR-Tools %s\n",
		version, commit, ortools.ThisPlatform, runtime.Version(), ortools.Release)
}

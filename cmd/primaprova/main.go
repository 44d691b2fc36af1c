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
	"io"
	"os"
	_ "time/tzdata" // the binary alone must know every time zone
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

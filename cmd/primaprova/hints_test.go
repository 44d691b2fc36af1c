package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"

	"golang.org/x/term"
)

// Hints are followed in all scripts: whatever primaprova is run there, each of its
// "next:" lines is run as it is printed, in a copy of the script's folder as it is by
// then. A hint that leads to wrong input, or to a fault, ends the script.

// following says that a hint is being followed, whose own hints are not.
const following = "PRIMAPROVA_TEST_FOLLOWING"

// badHint is the exit code of a command one of whose hints can't be followed.
const badHint = 97

// followed runs primaprova and then its hints, each once in a script.
func followed(args []string) int {
	work := os.Getenv("WORK")
	if work == "" || os.Getenv(following) != "" || os.Getenv(within) != "" || term.IsTerminal(int(os.Stderr.Fd())) {
		return begin(args)
	}
	var said bytes.Buffer
	code := run(args, os.Stdin, os.Stdout, io.MultiWriter(os.Stderr, &said))
	for _, line := range strings.Split(said.String(), "\n") {
		hint, ok := strings.CutPrefix(line, "next: ")
		if !ok || !first(work, hint) {
			continue
		}
		if err := follow(work, hint); err != nil {
			fmt.Fprintf(os.Stderr, "HINT %s: %v\n", hint, err)
			return badHint
		}
	}
	return code
}

// first tells whether a hint has not been followed in this script, and notes it.
func first(work, hint string) bool {
	path := work + ".hints" // beside the folder: scripts look at what is in it
	b, _ := os.ReadFile(path)
	if strings.Contains("\n"+string(b), "\n"+hint+"\n") {
		return false
	}
	return os.WriteFile(path, append(b, hint+"\n"...), 0o644) == nil
}

// follow runs a hint in a copy of the script's folder.
func follow(work, hint string) error {
	dir, err := os.MkdirTemp(filepath.Dir(work), "hint") // TMPDIR lies in the folder
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	if err := os.CopyFS(dir, os.DirFS(work)); err != nil {
		return err
	}
	here, err := os.Getwd()
	if err != nil {
		return err
	}
	to := func(s string) string { return strings.ReplaceAll(s, work, dir) }
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	c := exec.CommandContext(ctx, "sh", "-c", "exec "+to(hint))
	c.Dir = to(here)
	for _, v := range os.Environ() {
		if !strings.HasPrefix(v, "PATH=") { // where primaprova is
			v = to(v)
		}
		c.Env = append(c.Env, v)
	}
	c.Env = append(c.Env, following+"=1")
	if strings.HasPrefix(hint, "primaprova plan ") { // how good its plan is, is no matter of a hint
		c.Env = append(c.Env, "PRIMAPROVA_LIMIT=1s")
	}
	out, err := c.CombinedOutput()
	var exit *exec.ExitError
	switch {
	case err == nil, ctx.Err() != nil: // one that serves goes on
		return nil
	case errors.As(err, &exit) && exit.ExitCode() == exitLeftOut:
		return nil
	}
	return fmt.Errorf("%w\n%s", err, out)
}

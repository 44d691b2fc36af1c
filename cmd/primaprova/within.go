package main

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"slices"

	"primaprova/io/planfile"
	"primaprova/model"
)

// Commands that plan load engines that are not ours. They run in a process of
// their own, within which an engine may abort, eat the memory or never come back:
// the command ends in order all the same, with the best plan so far.
var withEngines = []string{"plan", "late", "why"}

// within, in the environment, names the folder in which such a process leaves
// what it has: the best plan so far, and that it ended in order. At nowhere there is
// no such process: an emulator of another processor may hang where it begins.
const (
	within  = "PRIMAPROVA_WITHIN"
	nowhere = "none"
)

const (
	bestFile  = "best.plan.json"
	endedFile = "ended"
)

// begin runs what the arguments ask for, in a process of its own where engines
// are loaded.
func begin(args []string) int {
	dir := os.Getenv(within)
	_ = os.Unsetenv(within) // it is no setting
	together := dir == nowhere
	if dir != "" && !together {
		left = dir
		os.Stderr = os.NewFile(3, os.Stderr.Name()) // what stands at 2 is for the run-time system's last words
		code := run(args, os.Stdin, os.Stdout, os.Stderr)
		_ = os.WriteFile(filepath.Join(dir, endedFile), nil, 0o600)
		return code
	}
	if len(args) == 0 || !slices.Contains(withEngines, args[0]) || !separable || together || slices.ContainsFunc(args[1:], isFolder) {
		return run(args, os.Stdin, os.Stdout, os.Stderr)
	}
	return supervise(args)
}

// left is the folder for what such a process leaves; empty in any other.
var left string

// rescued is the best plan of a planning that broke down.
var rescued *model.Plan

// afterBest is called when a better plan has been left; tests break things there.
var afterBest = func() {}

// leaving gives what is to be done with each better plan: in a process of its own
// it is left for the one that waits.
func leaving() func(*model.Plan) {
	if left == "" {
		return nil
	}
	return func(p *model.Plan) {
		if planfile.Write(filepath.Join(left, bestFile), p) == nil {
			afterBest()
		}
	}
}

// itself gives a process of this very program, to be begun. The context kills it.
func itself(ctx context.Context, args ...string) (*exec.Cmd, error) {
	self, err := os.Executable()
	if err != nil {
		return nil, err
	}
	c := exec.CommandContext(ctx, self, args...)
	c.Args[0] = os.Args[0] // links and tests go by the name it was called by
	return c, nil
}

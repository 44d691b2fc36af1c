package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"

	"primaprova/solver/cpsat"
	"primaprova/solver/highs"
	"primaprova/solver/ortools"
)

// engine loads HiGHS. Without it nothing is planned; everything else works.
func (a *app) engine(ctx context.Context) (*highs.Library, error) {
	path, err := ortools.Locate(ctx, ortools.HiGHS, a.set.get("engines"))
	if err != nil {
		return nil, &trouble{code: exitStopped, err: err}
	}
	l, err := highs.Open(path)
	if err != nil {
		return nil, &trouble{code: exitStopped, err: err}
	}
	return l, nil
}

// dayEngine finds CP-SAT, which lays days out in hours, and gives what loads it once
// there is a plan. Without it they are laid out one session after the other, which keeps
// every limit too.
func (a *app) dayEngine(ctx context.Context) func() *cpsat.Library {
	without := func(err error) {
		a.say.aside("Sessions follow each other in the order of their stages, and nothing better is looked for: %v", err)
	}
	path, err := ortools.Locate(ctx, ortools.CPSAT, a.set.get("engines"))
	if err != nil {
		without(err)
		return nil
	}
	return func() *cpsat.Library {
		l, err := cpsat.Open(path)
		if err != nil {
			without(err)
		}
		return l
	}
}

// interruptible gives a context that the first Ctrl-C ends. After it the
// signal has its ordinary effect again, so that a second one ends the process.
func interruptible(ctx context.Context) (context.Context, func()) {
	ctx, cancel := context.WithCancel(ctx)
	heard := make(chan os.Signal, 1)
	signal.Notify(heard, os.Interrupt, syscall.SIGTERM, syscall.SIGHUP) // the terminal was closed, too
	go func() {
		select {
		case <-heard:
			cancel()
		case <-ctx.Done():
		}
		signal.Stop(heard)
	}()
	return ctx, cancel
}

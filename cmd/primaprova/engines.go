package main

import (
	"context"
	"os"
	"os/signal"
	"sync"
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

// dayEngine finds CP-SAT, which lays days out in hours and helps with small seasons, and gives what
// loads it once there is a plan. Without it they are laid out one session after the other, which keeps
// every limit too; of a season without hours it is not missed, and looked for when it is asked for.
func (a *app) dayEngine(ctx context.Context, hours bool) func() *cpsat.Library {
	without := func(err error) {
		if hours {
			a.say.aside("Sessions follow each other in the order of their stages, and nothing better is looked for: %v", err)
		}
	}
	locate := sync.OnceValues(func() (string, error) { return ortools.Locate(ctx, ortools.CPSAT, a.set.get("engines")) })
	if hours {
		if _, err := locate(); err != nil {
			without(err)
			return nil
		}
	}
	return func() *cpsat.Library {
		path, err := locate()
		if err != nil {
			return nil
		}
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

package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"os/exec"
	"strings"
	"sync"
	"time"

	"primaprova/io/stand"
	"primaprova/model"
)

// replanner makes the plan anew beside the page, in a process of its own, once at a
// time: what is wanted meanwhile is planned after it.
type replanner struct {
	a     *app
	files *standFiles
	wake  chan struct{}

	mu      sync.Mutex
	due     time.Time // when the next planning begins; zero: none is wanted
	busy    bool
	changed *stand.Changed
	trouble string
}

func newReplanner(a *app, files *standFiles) *replanner {
	return &replanner{a: a, files: files, wake: make(chan struct{}, 1)}
}

// want has the plan made anew, after a while: what is tapped right after goes with it,
// and what was a slip can be taken back before anything moves.
func (r *replanner) want(after time.Duration) {
	r.mu.Lock()
	if due := time.Now().Add(after); due.After(r.due) {
		r.due = due
	}
	r.mu.Unlock()
	select {
	case r.wake <- struct{}{}:
	default:
	}
}

// How long a planning waits. After pain nothing is in a hurry but to stop.
const (
	aSlip     = 4 * time.Second
	aPainSlip = 20 * time.Second
)

// stands tells whether a planning is wanted or under way, and what the last one gave.
func (r *replanner) stands() (planning bool, changed *stand.Changed, trouble string) {
	r.mu.Lock()
	defer r.mu.Unlock()
	return !r.due.IsZero() || r.busy, r.changed, r.trouble
}

// run plans whenever it is wanted, until the context ends.
func (r *replanner) run(ctx context.Context) {
	for {
		select {
		case <-ctx.Done():
			return
		case <-r.wake:
		}
		for wait := r.wait(); wait > 0; wait = r.wait() {
			select {
			case <-ctx.Done():
				return
			case <-time.After(wait):
			}
		}
		r.mu.Lock()
		wanted := !r.due.IsZero()
		r.due, r.busy = time.Time{}, wanted
		r.mu.Unlock()
		if !wanted {
			continue
		}
		lines, err := r.plan(ctx)
		if err != nil && ctx.Err() == nil {
			lines, err = r.plan(ctx) // somebody else planned meanwhile
		}
		r.mu.Lock()
		r.busy, r.trouble = false, ""
		if err != nil {
			r.trouble = "The plan could not be made anew: " + err.Error()
		} else {
			number := int(time.Now().Unix()) // above those of a server before this one, too
			if r.changed != nil {
				number = max(number, r.changed.Number+1)
			}
			r.changed = &stand.Changed{Number: number, Lines: lines}
		}
		r.mu.Unlock()
	}
}

// wait is how long the planning that is wanted has to wait.
func (r *replanner) wait() time.Duration {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.due.IsZero() {
		return 0
	}
	return time.Until(r.due)
}

// plan plans as the command does, and says what changed.
func (r *replanner) plan(ctx context.Context) ([]string, error) {
	_, before, _, _ := r.files.read() // nil where there is none that can be read
	args := []string{"plan", r.files.season}
	for _, name := range planSettings {
		if value := r.a.set.get(name); value != "" {
			args = append(args, "--"+name, value)
		}
	}
	if path, named := settingsPath(r.a.set.flags); named {
		args = append(args, "--settings", path)
	}
	c, err := itself(ctx, args...)
	if err != nil {
		return nil, err
	}
	c.Cancel = func() error { return c.Process.Signal(os.Interrupt) } // it keeps the best so far
	c.WaitDelay = 20 * time.Second
	var said bytes.Buffer
	c.Stderr = &said
	var exit *exec.ExitError
	if err := c.Run(); err != nil && !(errors.As(err, &exit) && exit.ExitCode() == exitLeftOut) {
		lines := strings.Split(strings.TrimSpace(said.String()), "\n")
		return nil, errors.New(lines[0])
	}
	return r.changes(before)
}

// mostNear is how many days the page names of those that changed.
const mostNear = 3

// changes says what is other than before: how much, and the next days on which it is.
func (r *replanner) changes(before *model.Plan) ([]string, error) {
	f, after, _, err := r.files.read()
	if err != nil {
		return nil, err
	}
	h, err := r.a.happened(f, after)
	if err != nil {
		return nil, err
	}
	if before == nil {
		return []string{"Planned."}, nil
	}
	say := newVoice(&bytes.Buffer{}, &bytes.Buffer{})
	say.locale, say.width = r.a.say.locale, widest
	w := newView(say, h.season, after, h.history)
	c := w.changes(before, after, h.today).toPlay(h.today)
	if len(c.Sessions) == 0 {
		return []string{"Planned anew: nothing else moves."}, nil
	}
	lines := []string{"Planned anew. " + w.changeWords(c)}
	for i, d := range c.Days {
		if i == mostNear {
			break
		}
		var what []string
		if len(d.comes) > 0 {
			what = append(what, "comes "+w.inFew(d.comes))
		}
		if len(d.goes) > 0 {
			what = append(what, "goes "+w.inFew(d.goes))
		}
		lines = append(lines, say.day(d.Date)+": "+strings.Join(what, "; "))
	}
	return lines, nil
}

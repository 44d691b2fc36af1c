package caldav

import "context"

// atOnce is how many requests are under way at a time.
const atOnce = 6

// done is what became of a step.
type done struct {
	step
	etag string // of the new version
	err  error
}

// takeAll makes the changes, several at a time. It stops at the first error that
// is not about one object alone, and lets what is under way come to its end.
func (c *Calendar) takeAll(ctx context.Context, p *Publication, steps []step, state *State, r *Report) (err error) {
	results := make(chan done)
	begun, ended, made := 0, 0, 0
	begin := func() {
		s := steps[begun]
		begun++
		go func() { results <- c.take(ctx, s) }()
	}
	for begun < min(atOnce, len(steps)) {
		begin()
	}
	for ended < begun {
		d := <-results
		ended++
		if failed := d.enter(state, r); failed != nil {
			if err == nil {
				err = failed
			}
			continue
		}
		made++
		if p.Progress != nil {
			p.Progress(made, len(steps))
		}
		if made%saveEvery == 0 && err == nil {
			err = p.Save(state)
		}
		if err == nil && begun < len(steps) {
			begin()
		}
	}
	r.Waiting = len(steps) - made
	return err
}

// take makes one change on the server.
func (c *Calendar) take(ctx context.Context, s step) done {
	d := done{step: s}
	d.err = patiently(ctx, func() (err error) {
		if s.object == nil {
			return c.remove(ctx, s.name, s.over)
		}
		d.etag, err = c.put(ctx, s.name, s.object.Data, s.over)
		return err
	})
	return d
}

// enter notes what became of a step. What keeps the server from this one alone is
// a conflict.
func (d *done) enter(state *State, r *Report) error {
	switch {
	case conflicting(d.err, d.name, r):
	case d.err != nil:
		return d.err
	case d.object == nil:
		delete(state.Objects, d.name)
		r.Removed++
	default:
		// Without an ETag the server has changed what it was given (RFC 4791,
		// section 5.3.4); the next time it is looked at.
		state.Objects[d.name] = Known{ETag: d.etag, Sum: d.object.Sum}
		if d.over == "" {
			r.Added++
		} else {
			r.Changed++
		}
	}
	return nil
}

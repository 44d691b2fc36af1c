package caldav

import (
	"context"
	"maps"
	"slices"
	"strings"
)

// keyed is how long a name is up to the end of the key in it: all of a season's
// objects begin with one.
func keyed(name, family string) string {
	rest := strings.TrimPrefix(name, family)
	if i := strings.IndexByte(rest, '-'); i >= 0 {
		return name[:len(family)+i+1]
	}
	return name
}

// own gives of a calendar's objects those that are this publication's: under its
// key, and under an earlier one where the plan that knew it is lost. Those are
// known by the state, which names them, or by showing what is to be shown now;
// else they would stay for ever, beside the new ones. Other seasons' objects
// stay out of it.
func (c *Calendar) own(ctx context.Context, p *Publication, state *State, all map[string]string, r *Report) (map[string]string, error) {
	out := map[string]string{}
	others := map[string][]string{} // by what their names begin with
	for _, name := range slices.Sorted(maps.Keys(all)) {
		if strings.HasPrefix(name, p.Prefix) {
			out[name] = all[name]
		} else {
			key := keyed(name, p.Family)
			others[key] = append(others[key], name)
		}
	}
	for _, key := range slices.Sorted(maps.Keys(others)) {
		names := others[key]
		ours := slices.ContainsFunc(names, func(name string) bool { _, known := state.Objects[name]; return known })
		if !ours && len(out) == 0 && p.Twin != nil { // nothing stands under the new key yet
			found, err := c.fetch(ctx, names)
			if err != nil {
				return nil, err
			}
			twins := 0
			for _, v := range found {
				if p.Twin([]byte(v.data)) {
					twins++
				}
			}
			ours = twins > 0 && 3*twins >= len(found)
		}
		if !ours {
			r.Strangers += len(names)
			continue
		}
		for _, name := range names {
			out[name] = all[name]
		}
	}
	return out, nil
}

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

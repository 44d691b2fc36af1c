package caldav

import (
	"context"
	"errors"
	"maps"
	"net/http"
	"slices"
)

// Object is one that the calendar is to hold.
type Object struct {
	Name  string // of the resource in the calendar
	Title string // for people
	Data  []byte
	Sum   string // changes with every change of the object
}

// Publication says what a calendar is to hold.
type Publication struct {
	Prefix    string                                  // begins the names of all objects of ours, and of no others
	Family    string                                  // begins Prefix, and the names of ours under an earlier key, or of other seasons; empty: none are looked for
	Twin      func(data []byte) bool                  // tells whether an object shows what one of Objects does; may be nil
	Objects   []Object                                // all of them
	Untouched func(data []byte) (sum string, ok bool) // tells whether an object is as it was once written, and its sum then
	Replace   bool                                    // write also over what was edited by hand
	Progress  func(done, of int)                      // told of each change made; may be nil
	Save      func(*State) error                      // told now and then, and at the end, to keep the state
}

// State is what is known of a calendar from the last time.
type State struct {
	Format   string           `json:"format"` // StateFormat
	Calendar string           `json:"calendar"`
	Objects  map[string]Known `json:"objects"` // by name
}

// Known is the version of an object that we wrote.
type Known struct {
	ETag string `json:"etag"`
	Sum  string `json:"sum"`
}

// StateFormat names the version of State.
const StateFormat = "primaprova/published/1"

// Conflict is an object that was left as it is in the calendar.
type Conflict struct {
	Name string
	What Kind
}

// Kind is why.
type Kind int

// The kinds of conflict.
const (
	Edited       Kind = iota // edited by hand
	EditedGone               // edited by hand, and the plan no longer holds it
	Removed                  // removed by hand
	Meanwhile                // changed while we were publishing
	Declined                 // the server wants no such object
	UnderAnother             // the calendar holds it under a name that is not ours
)

// Report is what became of a publication.
type Report struct {
	Added, Changed, Removed, Same int
	Conflicts                     []Conflict // by name
	Waiting                       int        // changes not made, where publishing broke off
	Strangers                     int        // objects of the family that are of another season, or can't be told from it
}

// step is one change to make. With no object it is a removal.
type step struct {
	name   string
	object *Object
	over   string // the ETag of the version to replace; empty: there is none
}

// saveEvery is after how many changes the state is kept.
const saveEvery = 50

// Publish makes the calendar hold the publication's objects. The state is
// brought up to date also when an error breaks it off; one that is of another
// calendar counts as none. It stops at the first error that is not about one
// object alone.
func (c *Calendar) Publish(ctx context.Context, p *Publication, state *State) (*Report, error) {
	if state.Calendar != c.Address() || state.Objects == nil {
		*state = State{Calendar: c.Address(), Objects: map[string]Known{}}
	}
	state.Format = StateFormat
	r := &Report{}
	steps, err := c.compare(ctx, p, state, r)
	if err != nil {
		return r, err
	}
	err = c.takeAll(ctx, p, steps, state, r)
	slices.SortFunc(r.Conflicts, func(a, b Conflict) int {
		switch {
		case a.Name < b.Name:
			return -1
		case a.Name > b.Name:
			return 1
		}
		return 0
	})
	return r, errors.Join(err, p.Save(state))
}

// compare decides what has to change.
func (c *Calendar) compare(ctx context.Context, p *Publication, state *State, r *Report) ([]step, error) {
	family := p.Family
	if family == "" {
		family = p.Prefix
	}
	all, err := c.list(ctx, family)
	if err != nil {
		return nil, err
	}
	there, err := c.own(ctx, p, state, all, r)
	if err != nil {
		return nil, err
	}
	edited, err := c.recognise(ctx, p, state, there)
	if err != nil {
		return nil, err
	}
	var steps []step
	wanted := map[string]bool{}
	for i := range p.Objects {
		o := &p.Objects[i]
		wanted[o.Name] = true
		etag, exists := there[o.Name]
		known, ours := state.Objects[o.Name]
		switch {
		case !exists && ours && !p.Replace:
			r.Conflicts = append(r.Conflicts, Conflict{o.Name, Removed})
		case !exists:
			steps = append(steps, step{o.Name, o, ""})
		case edited[o.Name] && !p.Replace:
			r.Conflicts = append(r.Conflicts, Conflict{o.Name, Edited})
		case !edited[o.Name] && known.Sum == o.Sum:
			r.Same++
		default:
			steps = append(steps, step{o.Name, o, etag})
		}
	}
	for _, name := range slices.Sorted(maps.Keys(there)) {
		switch {
		case wanted[name]:
		case edited[name] && !p.Replace:
			r.Conflicts = append(r.Conflicts, Conflict{name, EditedGone})
		default:
			steps = append(steps, step{name, nil, there[name]})
		}
	}
	for name := range state.Objects {
		if _, exists := there[name]; !exists && !wanted[name] {
			delete(state.Objects, name)
		}
	}
	return steps, nil
}

// recognise looks at the objects whose version the state does not know. Those
// that are as they were written are known from then on; the others were edited.
func (c *Calendar) recognise(ctx context.Context, p *Publication, state *State, there map[string]string) (edited map[string]bool, err error) {
	var strange []string
	for _, name := range slices.Sorted(maps.Keys(there)) {
		if known, ok := state.Objects[name]; !ok || known.ETag != there[name] {
			strange = append(strange, name)
		}
	}
	found, err := c.fetch(ctx, strange)
	if err != nil {
		return nil, err
	}
	edited = map[string]bool{}
	for _, name := range strange {
		v, ok := found[name]
		if !ok {
			delete(there, name) // it went while we looked
			continue
		}
		there[name] = v.etag
		sum, untouched := p.Untouched([]byte(v.data))
		if !untouched {
			edited[name] = true
			continue
		}
		state.Objects[name] = Known{ETag: v.etag, Sum: sum}
	}
	return edited, nil
}

func conflicting(err error, name string, r *Report) bool {
	refused := refusal(err)
	switch {
	case refused == nil:
		return false
	case refused.Reason == "no-uid-conflict":
		r.Conflicts = append(r.Conflicts, Conflict{name, UnderAnother})
	case refused.Status == http.StatusPreconditionFailed:
		r.Conflicts = append(r.Conflicts, Conflict{name, Meanwhile})
	case refused.Status == http.StatusForbidden && refused.Reason != "" && refused.Reason != "need-privileges":
		r.Conflicts = append(r.Conflicts, Conflict{name, Declined})
	default:
		return false
	}
	return true
}

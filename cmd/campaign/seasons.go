package main

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"sync"

	"primaprova/io/disk"
	"primaprova/io/ical"
	"primaprova/io/planfile"
	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver"
	"primaprova/solver/highs"
	"primaprova/solver/ortools"
)

// sized gives a small season of one of the kinds that are invented.
func sized(seed uint64) *model.Season {
	kinds := invent.Sizes(seed)
	z := kinds[int(seed%uint64(len(kinds)))].Size
	z.Weeks, z.Programmes = min(z.Weeks, 3), min(z.Programmes, 2)
	z.Parts, z.Passages, z.AtOnce, z.Off = min(z.Parts, 2), min(z.Passages, 4), 0, 0
	z.Lead = min(z.Lead, 18)
	return invent.Season(z)
}

const (
	solved = 20 // seasons to one that the engine plans, too
	lived  = 10 // lives to one in which it does the planning; in the others it is the first plan that is made again
)

func (c *campaign) engine() (*highs.Library, error) { return engine(c.engines) }

var engine = func() func(folder string) (*highs.Library, error) {
	var once sync.Once
	var l *highs.Library
	var err error
	return func(folder string) (*highs.Library, error) {
		once.Do(func() {
			var path string
			if path, err = ortools.Locate(context.Background(), ortools.HiGHS, folder); err == nil {
				l, err = highs.Open(path)
			}
		})
		return l, err
	}
}()

// season plans one and looks at the plan: by the audit, in its file, and in its
// calendar.
func (c *campaign) season(seed uint64) error {
	s := sized(seed)
	p, err := solver.Greedy(s, solver.Options{Seed: int(seed % 1000)})
	if err != nil {
		return err
	}
	p.Renumber(nil, 0)
	if err := sound(s, p, nil); err != nil || seed%solved != 0 {
		return err
	}
	l, err := c.engine()
	if err != nil {
		return err
	}
	if p, err = solver.Solve(context.Background(), s, solver.Options{Engine: l, Seed: int(seed % 1000), Work: 0.02}); err != nil {
		return err
	}
	p.Renumber(nil, 0)
	return sound(s, p, nil)
}

// sound wants a plan that passes the audit, and that its file gives back.
func sound(s *model.Season, p *model.Plan, h *model.History) error {
	if breaches := s.Audit(p, h); len(breaches) > 0 {
		return fmt.Errorf("%d breaches: %v", len(breaches), breaches[0])
	}
	dir, err := os.MkdirTemp("", "campaign-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	path := filepath.Join(dir, "season.plan.json")
	if err := planfile.Write(path, p); err != nil {
		return err
	}
	again, err := planfile.Read(path)
	if err != nil {
		return err
	}
	if err := planfile.Write(path+".again", again); err != nil {
		return err
	}
	if disk.Sum(path) != disk.Sum(path+".again") {
		return errors.New("the file gives back another plan")
	}
	objects, err := ical.Objects(s, p, ical.Options{})
	if err != nil {
		return err
	}
	for _, o := range objects {
		if sum, ok := ical.Untouched(o.Data); !ok || sum != o.Sum {
			return fmt.Errorf("an entry of the calendar is not what it says it is: %s", o.Title)
		}
	}
	return nil
}

// cycle lets days go by: things happen, are recorded, and what is left is planned
// again.
func (c *campaign) cycle(seed uint64) error {
	again := solver.Greedy
	if seed%lived == 0 {
		l, err := c.engine()
		if err != nil {
			return err
		}
		again = func(s *model.Season, o solver.Options) (*model.Plan, error) {
			c.bySolver.Add(1)
			o.Engine, o.Work = l, 0.01
			return solver.Solve(context.Background(), s, o)
		}
	}
	r := rand.New(rand.NewPCG(seed, 9))
	s := sized(seed)
	standing, err := solver.Greedy(s, solver.Options{})
	if err != nil {
		return err
	}
	standing.Renumber(nil, 0)
	var events []model.Event
	for today := s.From; today <= s.To; today += 1 + model.Date(r.IntN(4)) {
		for _, e := range happenings(r, standing, today) {
			e.Entry = len(events) + 1
			events = append(events, e)
		}
		h, _ := s.Replay(events, standing, model.Replaying{Today: today + 1, TakeAsDone: r.IntN(2) == 0})
		now := s.With(h)
		p, err := again(now, solver.Options{History: h, Standing: standing})
		if err != nil {
			return fmt.Errorf("%v: %w", today, err)
		}
		p.Follow(standing)
		p.Renumber(standing, today)
		if err := sound(now, p, h); err != nil {
			return fmt.Errorf("%v: %w", today, err)
		}
		standing = p
		c.replanned.Add(1)
	}
	return nil
}

// happenings are what a day may bring.
func happenings(r *rand.Rand, p *model.Plan, on model.Date) (out []model.Event) {
	switch r.IntN(12) {
	case 0:
		return []model.Event{{Kind: model.DayLost, Date: on}}
	case 1:
		return []model.Event{{Kind: model.Pain, Date: on}}
	}
	for i := range p.Sessions {
		v := &p.Sessions[i]
		if v.Date != on || v.Part == "" || r.IntN(4) == 0 {
			continue
		}
		e := model.Event{Kind: model.Done, Date: on, Session: v.ID, Planned: v.Minutes}
		switch {
		case r.IntN(5) == 0:
			e.Kind = model.NotDone
		case r.IntN(5) == 0 && v.Passage != nil:
			e.Kind = model.DidNotHold
		case r.IntN(3) == 0:
			e.Took = v.Minutes + model.Minutes(r.IntN(10))
		}
		out = append(out, e)
	}
	return out
}

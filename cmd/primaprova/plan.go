package main

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"

	"primaprova/io/disk"
	"primaprova/io/planfile"
	"primaprova/io/seasonfile"
	"primaprova/model"
	"primaprova/solver"
	"primaprova/solver/compact"
)

func planCommand(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:   "plan [SEASON|FOLDER]",
		Short: "fills the calendar, and says what stands ready when",
		Long: `Plans the season and writes the plan beside the season file: season.yaml has
season.plan.json. Where a plan stands already, the new one keeps to it as far as
that costs no work and no ready part; days gone by are what the record says, and
today stays as it stands. Where nothing has changed, nothing moves.

The plan keeps every limit of the season file. Beyond that it wants, in this
order: nothing left out; parts ready by their ready-by dates; little moved from
the plan that stands; even days and weeks; visits at their preferred gaps. For
each it says how far the plan is from the best possible.

With --write-program it plans nothing and needs no engine: it writes the whole
season as an integer program in MPS, for any other solver to check a plan
against. Its wishes are the variables wish[...].

Given a folder, it plans each season file in it and below it, some at a time,
each beside its file, and sums up. A season that can't be planned stops no
other.

Ctrl-C ends the search and keeps the best plan so far; a second one ends it all.
Exit code 3: the plan stands, but something is not read, or a passage not worked
at at all (setting left_out).`,
		Args: atMost(1),
	}
	fromToday := c.Flags().Bool("from-today", false, "plan today's work too, in place of leaving it as it stands")
	anew := c.Flags().Bool("anew", false, "plan as if nothing stood but days gone by")
	form := addDetails(c)
	program := c.Flags().String("write-program", "", "write the season's integer program to this `file`, in place of planning")
	c.Flags().StringVar(&a.trace.file, "trace", "", "write what the search tried, and what came of it, to this `file`, a JSON object a line")
	atOnce := c.Flags().Int("at-once", 0, "of a folder, plan so `many` seasons at a time; 0: half as many as there are processors")
	addSettings(c, "engines", "seed", "budget", "tolerance", "gap", "limit", "left_out", "today", "unrecorded", "learn", "width")
	c.RunE = func(c *cobra.Command, args []string) error {
		if name := a.seasonName(args); isFolder(name) && *program == "" && a.trace.file == "" {
			return a.planFolder(c, name, *atOnce, *form)
		}
		f, err := a.season(a.seasonName(args))
		if err != nil {
			return err
		}
		a.warnings(f)
		if *program != "" {
			return a.writeProgram(f, *program, *anew, *fromToday)
		}
		if err := writable(planPath(f.Path)); err != nil {
			return err
		}
		stood, _ := planfile.Read(planPath(f.Path)) // nil where there is none that can be read
		p, h, err := a.plan(c.Context(), f, *anew, *fromToday)
		if err != nil {
			return err
		}
		if err := a.alone(f.Path, func() error { return a.putPlan(f.Path, p, h) }); err != nil {
			return err
		}
		a.keepCopies(f, false)
		w := newView(a.say, h.season, p, h.history)
		if err := w.sayPlanned(stood, *form, a.today(f.Season)); err != nil {
			return err
		}
		a.sayPins(h, p)
		a.sayTaught(h)
		a.say.aside("Wrote %s.", planPath(f.Path))
		a.say.next("show %s", quoted(f.Path))
		if len(p.Unplaced) > 0 {
			a.say.next("why %s", quoted(f.Path))
		}
		return a.leavesOut(p)
	}
	return c
}

// leavesOut ends a command that planned: with exit code 3 where the plan leaves out
// what the setting says.
func (a *app) leavesOut(p *model.Plan) error {
	alarm := len(p.Unplaced) > 0
	switch a.set.get("left_out") {
	case "untouched":
		alarm = slices.ContainsFunc(p.Unplaced, func(u model.Unplaced) bool { return u.Untouched() })
	case "nothing":
		alarm = false
	}
	if !alarm {
		return nil
	}
	return &trouble{code: exitLeftOut}
}

// plan solves a season, with its record and close to the plan that stands. The
// plan that comes back has passed the audit and follows the one that stood.
func (a *app) plan(ctx context.Context, f *seasonfile.File, anew, fromToday bool) (*model.Plan, *happened, error) {
	o, h, standing, err := a.task(f, anew, fromToday)
	if err != nil {
		return nil, nil, err
	}
	if rescued != nil {
		if breaches := h.season.Audit(rescued, h.history); len(breaches) > 0 {
			return nil, nil, &solver.FaultyPlan{Breaches: breaches}
		}
		return a.signed(rescued, f, h, standing), h, nil
	}
	engine, err := a.engine(ctx)
	if err != nil {
		return nil, nil, err
	}
	ctx, stop := interruptible(ctx)
	defer stop()
	o.Engine, o.Best = engine, leaving()
	o.LoadDays = a.dayEngine(ctx, h.season.HasHours())
	// The clock starts once the engine is loaded, so that the shortest limit
	// too leaves a first plan.
	limit := a.set.time("limit")
	if limit > 0 {
		var cancel context.CancelFunc
		ctx, cancel = context.WithTimeout(ctx, limit)
		defer cancel()
	}
	show := a.say.progress(limit)
	o.Progress, o.Trace = show.tell, a.trace.tell()
	p, err := solver.Solve(ctx, h.season, o)
	show.end()
	if err := a.trace.write(); err != nil {
		return nil, nil, err
	}
	if errors.Is(err, solver.ErrStopped) {
		return nil, nil, &trouble{code: exitStopped, err: err}
	}
	if err != nil {
		return nil, nil, err
	}
	return a.signed(p, f, h, standing), h, nil
}

// signed gives a plan what it carries besides its sessions: what it was made of,
// and how it follows the one that stood.
func (a *app) signed(p *model.Plan, f *seasonfile.File, h *happened, standing *model.Plan) *model.Plan {
	p.Season.File, p.Season.SHA256, p.Season.Record = filepath.Base(f.Path), f.SHA256, h.record.Last
	p.Calendar = f.Season.CalendarKey()
	p.Renumber(standing, h.today)
	// A plan made anew still takes the old one's place in the calendars.
	p.Follow(standing)
	p.Warned = told(f.Ahead(h.today))
	if p.Changed = a.today(f.Season); standing != nil && sameSessions(standing, p) {
		p.Changed = standing.Changed
	}
	return p
}

// task gives what is to be planned: the settings with the record and the plan
// that the new one shall be close to, and the plan that stands in any case.
func (a *app) task(f *seasonfile.File, anew, fromToday bool) (o solver.Options, h *happened, standing *model.Plan, err error) {
	stood := disk.Sum(planPath(f.Path))
	standing, err = planfile.Read(planPath(f.Path))
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil && !anew:
		return o, nil, nil, (&trouble{code: exitInput, err: err}).then("plan --anew %s", quoted(f.Path))
	}
	if err != nil {
		standing = nil
	}
	h, err = a.resumed(f, standing, fromToday)
	if err != nil {
		return o, nil, nil, err
	}
	h.stood = stood
	a.sayTaken(h, standing)
	o = solver.Options{Seed: a.set.number("seed"), Tolerance: a.set.tolerance(), Work: float64(a.set.number("budget")) / 100, Gap: float64(a.set.number("gap")) / 100,
		History: h.history, Standing: standing}
	if anew {
		o.Standing = goneBy(standing, h.history.Today)
	}
	return o, h, standing, nil
}

// writeProgram writes what there is to plan as an integer program.
func (a *app) writeProgram(f *seasonfile.File, path string, anew, fromToday bool) error {
	o, h, _, err := a.task(f, anew, fromToday)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	vars, rows, err := compact.WriteProgram(&b, h.season, o)
	if err != nil {
		return err
	}
	if err := (&outlet{a: a, f: f}).write(program, path, b.Bytes(), nil); err != nil {
		return err
	}
	a.say.aside("%d variables, %d rows, %.1f MB.", vars, rows, float64(b.Len())/1e6)
	return nil
}

// goneBy gives of a plan what lies before a date: a plan made anew is bound to
// nothing else. Nil where that is nothing.
func goneBy(p *model.Plan, before model.Date) *model.Plan {
	if p == nil {
		return nil
	}
	out := &model.Plan{}
	for _, v := range p.Sessions {
		if v.Date < before {
			out.Sessions = append(out.Sessions, v)
		}
	}
	if len(out.Sessions) == 0 {
		return nil
	}
	return out
}

// writable finds out before the long work whether its result can be kept.
func writable(path string) error {
	if err := disk.Writable(path); err != nil {
		return cannotWrite(path, err)
	}
	return nil
}

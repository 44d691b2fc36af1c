package main

import (
	"context"
	"errors"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"primaprova/io/seasonfile"
	"primaprova/model"
	"primaprova/solver"
	"primaprova/solver/conflict"
)

// mostAnswered is how many parts why looks into when asked for all.
const mostAnswered = 3

func whyCommand(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:   "why [SEASON] [PART|PASSAGE|SESSION]",
		Short: "what keeps work from fitting, and what would help",
		Long: `Says for what the plan leaves out, or only for the part, passage or session
named, what keeps it from being placed: a smallest set of lines of the season
file, and of rules, that together let no plan place it beside what is planned.
Other lines may forbid it too, so each is marked with whether it would help if it
alone gave way.

    why                            for each part of which something is left out
    why tide/slate                 for one part
    why tide/slate/45-61           for one passage
    why tide/slate/45-61/visit-3   for one session; of one that is planned, why it
                                   is on its day, and where else it could be
    why 3                          for the one of this number on today's sheet

The end of a name will do where it is one's alone: why slate.

Then it offers what would help, each in its smallest form, solved, and with what
it changes (--details: in each wish) and leaves out: the part arriving earlier, to ask the
library for, passages left out, an estimate in place of marked passages, least gaps
given up, more minutes on some days where the setting most allows them, and last one
rest day. Where no change of a kind would let all be placed, it offers what helps in
part. At the end it says how sure the least sure parts are.

Of a part of which nothing is left out it says what would make it surer: being ready
some days sooner, the part coming a week earlier, last visits of others given up, and
more minutes in one week where the setting most allows them. Each is planned again and
played, like the plan that stands, through the same lives; show chances says what luck
that is.

    why tide/slate --take leave:tide/slate/45-61
                                   writes that offer into the season file, and plans

An offer's name says what it is. With @ and the mark that the hint gives it is taken
only while season, plan and record are what they were.

Work is counted, not timed: the setting budget gives more or less of it, and what it
did not suffice to tell is said. Asked for all, it looks into three parts; ask for
others by name. Without --take nothing is written.`,
		Args: atMost(2),
	}
	take := c.Flags().String("take", "", "write the offer of this `name` into the season file, and plan")
	inWishes := c.Flags().Bool("details", false, "say what offers change in each wish, in place of what a player counts")
	addSettings(c, "engines", "seed", "budget", "tolerance", "gap", "limit", "most", "today", "unrecorded", "learn", "width")
	c.RunE = func(c *cobra.Command, args []string) error {
		path, args := a.seasonAmong(args)
		if len(args) > 1 {
			return wrong("why: there is no use for %s", args[1]).then("why --help")
		}
		y, err := a.asking(c.Context(), path, *take)
		if err != nil {
			return err
		}
		y.wishes = *inWishes || a.say.plain()
		y.asked = y.idOf(strings.Join(args, ""), y.h.today)
		if c.Flags().Changed("take") {
			if err := y.takes(*take); err != nil {
				return err
			}
		}
		asked := y.asked
		for i := range y.plan.Sessions {
			if s := &y.plan.Sessions[i]; s.ID == asked {
				return y.sayDay(s)
			}
		}
		return y.reasons(c, asked)
	}
	return c
}

// asking is a plan that is asked why.
type asking struct {
	*view
	a       *app
	f       *seasonfile.File
	h       *happened
	plan    *model.Plan
	options solver.Options
	inquiry *conflict.Inquiry
	asked   string // part, passage or session; empty: all
	take    string // name of the offer to take; empty: none
	wishes  bool   // offers say what they change in the wishes
	offers  []conflict.Offer
	surely  string // the part that is to become surer; empty: what is left out is to be placed
}

// asking reads what stands and makes ready to ask.
func (a *app) asking(ctx context.Context, path string, take string) (*asking, error) {
	y := &asking{a: a, take: take}
	var err error
	read := a.standingSeason
	if y.take != "" { // it will be planned
		read = a.season
	}
	if y.f, err = read(path); err != nil {
		return nil, err
	}
	if y.plan, err = a.standing(y.f); err != nil {
		return nil, err
	}
	if y.plan.Season.SHA256 != y.f.SHA256 {
		return nil, wrong("%s: why asks the plan of the season as it is now", planPath(y.f.Path)).then("plan %s", quoted(y.f.Path))
	}
	if y.h, err = a.resumed(y.f, y.plan, false); err != nil {
		return nil, err
	}
	a.sayNewer(y.f.Path, y.h, y.plan)
	engine, err := a.engine(ctx)
	if err != nil {
		return nil, err
	}
	y.options = solver.Options{Engine: engine, Seed: a.set.number("seed"), Work: float64(a.set.number("budget")) / 100, History: y.h.history, Standing: y.plan}
	if y.inquiry, err = conflict.Inquire(y.h.season, y.options); err != nil {
		return nil, err
	}
	y.view = newView(a.say, y.h.season, y.plan, y.h.history)
	return y, nil
}

// knows tells whether a name is that of a part, a passage or a session.
func (y *asking) knows(name string) bool {
	if y.Parts[name] != nil || y.Passages[name] != nil {
		return true
	}
	return slices.ContainsFunc(y.plan.Sessions, func(s model.Session) bool { return s.ID == name })
}

// reasons says why, part by part, and what would help.
func (y *asking) reasons(c *cobra.Command, asked string) error {
	v := y.say
	groups, err := y.groups(asked)
	if err != nil {
		return err
	}
	if len(groups) == 0 {
		if y.take == "" {
			v.line("Nothing is left out%s.", map[bool]string{true: "", false: " of " + y.inWords(asked)}[asked == ""])
		}
		if asked != "" {
			return y.surer(c, partOf(asked))
		}
		y.saySure("")
		return nil
	}
	ctx, stop := interruptible(c.Context())
	defer stop()
	if limit := y.a.set.time("limit"); limit > 0 {
		var cancel context.CancelFunc
		ctx, cancel = context.WithTimeout(ctx, limit)
		defer cancel()
	}
	if y.take == "" {
		v.title("%s: what keeps what is left out from fitting", y.Season.Title)
		if first := y.h.history.Today; first > y.Season.From {
			v.line("Asked of the days from %s on: those before it stand.", v.day(first))
		}
	}
	explained, answered, rest := map[string]string{}, 0, []string(nil)
	for i := range groups {
		g := &groups[i]
		if by, ok := explained[g.part]; ok {
			y.tell(func() {
				v.line("%s, %s: part of what is said of %s.", y.ShortTitle(g.part), y.sum(g), y.ShortTitle(by))
			})
			continue
		}
		if ctx.Err() != nil || answered == mostAnswered {
			rest = append(rest, g.part)
			continue
		}
		r, err := y.reason(ctx, g)
		if err != nil {
			return err
		}
		if r.Outcome != conflict.Placed {
			answered++ // the others are found quickly
		}
		y.tell(func() { y.sayReason(g, r) })
		for k := range r.Facts {
			if f := &r.Facts[k]; f.Kind == conflict.WorkFact && f.Part != g.part && r.Whole {
				explained[f.Part] = g.part
			}
		}
		if err := y.help(ctx, r); err != nil {
			return err
		}
		if o := y.taken(); o != nil {
			return y.apply(c, o)
		}
	}
	if len(rest) > 0 {
		y.tell(func() { v.line("Not looked into; ask for them by name: why %s.", strings.Join(rest, ", ")) })
	}
	if y.take != "" {
		return y.gone()
	}
	y.saySure(asked)
	y.hint()
	return nil
}

// tell says something of the answer; where an offer is taken, only what comes
// of it is said.
func (y *asking) tell(say func()) {
	if y.take == "" {
		y.say.space()
		say()
	}
}

// reason looks for a reason.
func (y *asking) reason(ctx context.Context, g *group) (*conflict.Reason, error) {
	r, err := y.inquiry.Why(ctx, g.ids())
	if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return &conflict.Reason{Asked: g.ids(), Outcome: conflict.Untold}, nil
	}
	return r, err
}

package main

import (
	"errors"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"primaprova/io/seasonfile"
	"primaprova/model"
)

func addCommand(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:   "add [SEASON] WHAT ...",
		Short: "a programme, service, part or passage more",
		Long: `Writes a few lines into the season file; nothing else in it changes, comments
and layout included. WHAT is programme, service, part or passage:

    add programme "Frost and fire"
    add service frost rehearsal 26.1.2027 10:00 27.1.2027 10:00 --lasts 150
    add service frost concert 30.1.2027 19:30 --lasts "2 h"
    add part frost "Symphony no. 3" --arrives 11.1.2027 --listening 90
    add part frost "Ferry waltz" --estimate 60
    add passage symphony "45-61, hard, exposed" "102-110, easy, 8 min"

Programmes and parts go by their ids, which are made of their titles; --id gives
one of your own. A service without --lasts is as long as the one of its kind before
it; a part without --arrives comes when the part before it does. A service is a
rehearsal, concert, recital, audition or lesson. late --new brings a part in and
plans at once; record writes down a passage found.`,
		Args: cobra.ArbitraryArgs,
	}
	n, f := &addition{}, c.Flags()
	f.StringVar(&n.id, "id", "", "`id` of the programme or part; empty: made of its title")
	f.StringVar(&n.lasts, "lasts", "", "`minutes` that the services last")
	f.StringVar(&n.playing, "playing", "", "`percent` of the services spent playing")
	f.StringVar(&n.travel, "travel", "", "`minutes` of the way there, and again back")
	f.StringVar(&n.works, "works", "", "`ids` of the parts that the services are for, with commas between; empty: all")
	f.StringVar(&n.arrives, "arrives", "", "the `date` on which the part comes")
	n.lengths = map[string]*string{}
	for _, l := range []struct{ name, help string }{{"listening", "`minutes` of listening to the part's work"}, {"read-through", "`minutes` of its read-through"},
		{"recordings", "`minutes` of the return to the recordings"}, {"estimate", "all visits of the part together, in `minutes`"}} {
		n.lengths[l.name] = f.String(l.name, "", l.help)
	}
	f.StringArrayVar(&n.passages, "passage", nil, "a `passage` of the part: bars, then hard or easy, exposed, minutes")
	addSettings(c, "today")
	c.RunE = func(c *cobra.Command, args []string) error {
		path, args := a.seasonAmong(args)
		if len(args) < 2 || kinds[args[0]].does == nil {
			return wrong("add: say what: programme, service, part or passage, and which").then("add --help")
		}
		var strange []string
		c.Flags().Visit(func(f *pflag.Flag) {
			if c.LocalNonPersistentFlags().Lookup(f.Name) != nil && f.Name != "today" && !strings.Contains(kinds[args[0]].flags+" ", " "+f.Name+" ") {
				strange = append(strange, "--"+f.Name)
			}
		})
		if len(strange) > 0 {
			return wrong("add: %s is not said of a %s", strings.Join(strange, " "), args[0]).then("add --help")
		}
		return a.alone(path, func() error { return a.add(path, args, n) })
	}
	return c
}

// addition is what add is told in flags.
type addition struct {
	id, lasts, playing, travel, works, arrives string
	lengths                                    map[string]*string
	passages                                   []string
}

// kinds are what can be added, with the flags that speak of it.
var kinds = map[string]struct {
	does  func(a *app, n *addition, f *seasonfile.File, args []string) (*seasonfile.File, error)
	flags string
}{
	"programme": {(*app).addProgramme, " id"},
	"service":   {(*app).addServices, " lasts playing travel works"},
	"part":      {(*app).addPart, " id arrives listening read-through recordings estimate passage"},
	"passage":   {(*app).addPassages, ""},
}

// add changes the season file. Who calls it holds the season.
func (a *app) add(path string, args []string, n *addition) error {
	from := a.sources(path)
	from.Begun = true
	f, err := a.seasonFrom(path, from)
	if err != nil {
		return err
	}
	out, err := kinds[args[0]].does(a, n, f, args[1:])
	var t *trouble
	switch {
	case errors.As(err, &t):
		return err
	case err != nil:
		return editTrouble(err)
	}
	if err := out.Replace(f); err != nil {
		return editTrouble(err)
	}
	a.say.aside("Wrote %s: %s.", path, addedWords(args[0], f.Season, out.Season))
	if begun(out.Season) {
		a.say.next("add --help")
	} else {
		a.say.next("check %s", quoted(path))
	}
	return nil
}

// begun tells whether a season has nothing to plan yet.
func begun(s *model.Season) bool {
	for i := range s.Programmes {
		if len(s.Programmes[i].Parts) > 0 {
			return false
		}
	}
	return true
}

func (a *app) addProgramme(n *addition, f *seasonfile.File, args []string) (*seasonfile.File, error) {
	if len(args) > 1 {
		return nil, wrong("add programme: there is no use for %s; a title of several words stands in quotes", args[1]).then("add --help")
	}
	return f.AddProgramme(model.Programme{ID: n.id, Title: args[0]})
}

func (a *app) addPassages(_ *addition, f *seasonfile.File, args []string) (*seasonfile.File, error) {
	part, err := partNamed(f.Season, args[0])
	if err != nil {
		return nil, err
	}
	if len(args) < 2 {
		return nil, wrong(`add passage: which bars? Like "45-61, hard, exposed"`).then("add --help")
	}
	all, err := passagesOf(args[1:])
	if err != nil {
		return nil, err
	}
	return f.AddPassages(part, all)
}

package main

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"primaprova/io/planfile"
	"primaprova/model"
)

// completer offers names of the season at hand to a shell: of that file which the words so
// far name, or the setting. Where it cannot be read it has no names, and nothing is said.
type completer struct {
	season *model.Season
	plan   *model.Plan // nil where none stands
	out    []string    // each a word, a tab, and what it is
}

// completion gives the function that completes arguments with what the given ones offer.
// Season files stand in the place of the first argument.
func (a *app) completion(offers ...func(c *completer, args []string)) cobra.CompletionFunc {
	return func(cmd *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
		how := cobra.ShellCompDirectiveNoFileComp
		if !slices.ContainsFunc(args, isSeason) {
			how = cobra.ShellCompDirectiveDefault
		}
		c := a.completer(cmd, args)
		rest := slices.DeleteFunc(slices.Clone(args), isSeason)
		for _, offer := range offers {
			offer(c, rest)
		}
		return c.out, how
	}
}

func (a *app) completer(cmd *cobra.Command, args []string) *completer {
	c := &completer{season: &model.Season{}}
	set, err := readSettings(cmd.Flags())
	if err != nil {
		return c
	}
	path := set.get("season")
	if i := slices.IndexFunc(args, isSeason); i >= 0 {
		path = args[i]
	}
	quiet := &app{say: newVoice(io.Discard, io.Discard), set: set}
	f, err := quiet.season(path)
	if err != nil {
		return c
	}
	c.season = f.Season
	if p, err := planfile.Read(planPath(path)); err == nil {
		c.plan = p
	}
	return c
}

func (c *completer) offer(word, what string) {
	if strings.ContainsAny(word, " \t\n") {
		return // a shell would take it apart
	}
	c.out = append(c.out, word+"\t"+strings.Join(strings.Fields(what), " "))
}

// offerViews offers the views of show, and names where one is asked for.
func offerViews(c *completer, args []string) {
	switch {
	case len(args) == 0:
		for _, v := range [][2]string{{"day", "today"}, {"week", "the week of a date"}, {"part", "parts and their visits"}, {"programme", "what stands ready when"},
			{"load", "playing minutes by week"}, {"changes", "what the last planning moved"}, {"chances", "how sure each part is"}, {"memory", "what checks tell of holding"}, {"left-out", "what the plan leaves out"}, {"urgent", "what can wait least today"}} {
			c.offer(v[0], v[1])
		}
	case len(args) == 1 && (args[0] == "part" || args[0] == "chances"):
		parts(c, nil)
	case len(args) == 1 && args[0] == "programme":
		programmes(c, nil)
	}
}

// additions offers what can be added, and then to what.
func additions(c *completer, args []string) {
	switch {
	case len(args) == 0:
		for _, k := range [][2]string{{"programme", "with its title"}, {"service", "of a programme"}, {"part", "of a programme"}, {"passage", "of a part"}} {
			c.offer(k[0], k[1])
		}
	case len(args) == 1 && args[0] == "passage":
		parts(c, nil)
	case len(args) == 1 && args[0] != "programme":
		programmes(c, nil)
	case len(args) == 2 && args[0] == "service":
		for _, k := range model.ServiceKinds {
			c.offer(k.String(), "")
		}
	}
}

// parts, passages and sessions offer names for a first argument.
func parts(c *completer, args []string) {
	if len(args) > 0 {
		return
	}
	for _, p := range c.season.Programmes {
		for _, part := range p.Parts {
			c.offer(p.ID+"/"+part.ID, part.Work)
		}
	}
}

func passages(c *completer, args []string) {
	if len(args) > 0 {
		return
	}
	for _, p := range c.season.Programmes {
		for _, part := range p.Parts {
			for _, passage := range part.Passages {
				c.offer(p.ID+"/"+part.ID+"/"+passage.ID, "bars "+passage.Bars)
			}
		}
	}
}

func sessions(c *completer, args []string) {
	if len(args) > 0 || c.plan == nil {
		return
	}
	for _, s := range c.plan.Sessions {
		if s.Part != "" {
			c.offer(s.ID, fmt.Sprintf("%s, %d min", s.Date, s.Minutes))
		}
	}
}

func programmes(c *completer, _ []string) {
	for _, p := range c.season.Programmes {
		c.offer(p.ID, p.Title)
	}
}

// dates offers the days of services, and days on which something is planned.
func dates(c *completer, _ []string) {
	what := map[model.Date][]string{}
	if c.plan != nil {
		minutes := map[model.Date]model.Minutes{}
		for _, s := range c.plan.Sessions {
			minutes[s.Date] += s.Minutes
		}
		for d, m := range minutes {
			what[d] = []string{fmt.Sprintf("%d min planned", m)}
		}
	}
	for _, p := range c.season.Programmes {
		for _, s := range p.Services {
			what[s.Date] = append(what[s.Date], s.Kind.String()+" of "+p.Title)
		}
	}
	for _, d := range slices.Sorted(maps.Keys(what)) {
		c.offer(d.String(), strings.Join(what[d], ", "))
	}
}

// second offers only for the argument after the first.
func second(offer func(*completer, []string)) func(*completer, []string) {
	return func(c *completer, args []string) {
		if len(args) == 1 {
			offer(c, nil)
		}
	}
}

// completes gives every command what it offers.
func (a *app) completes(root *cobra.Command) {
	arguments := map[string][]func(*completer, []string){
		"check": nil, "plan": nil, "export": nil, "publish": nil, "serve": nil,
		"show": {offerViews}, "late": {parts}, "why": {parts, passages, sessions}, "pin": {sessions, second(dates)}, "add": {additions},
	}
	flags := map[string]func(*completer, []string){
		"on": dates, "from": dates, "to": dates, "arrives": dates, "due": dates,
		"part": parts, "programme": programmes, "no-longer-needed": passages,
	}
	for _, c := range root.Commands() {
		if offers, ok := arguments[c.Name()]; ok {
			c.ValidArgsFunction = a.completion(offers...)
		}
		for name, offer := range flags {
			if c.Flags().Lookup(name) == nil || c.Name() == "new" {
				continue
			}
			err := c.RegisterFlagCompletionFunc(name, func(cmd *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
				c := a.completer(cmd, args)
				offer(c, nil)
				return c.out, cobra.ShellCompDirectiveNoFileComp
			})
			if err != nil {
				panic(err) // a flag named twice in the table above
			}
		}
	}
}

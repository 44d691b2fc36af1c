// Command bench measures primaprova and prints one table. Each row is one run, or
// the median or worst of several; rows that compare are measured one after the
// other in the same run of the command, on the same machine. Whatever is heavy
// runs in a child process, so that its memory is its own.
//
// It writes nothing but the table, and the page that -to names: files that other
// solvers need lie in a temporary folder, which is removed.
//
//	make bench                          everything; takes hours
//	go run ./cmd/bench -run engines,late -seconds 20 -work 0.1
//	go run ./cmd/bench -run simulated -first 101 -lives 16 -loads 0.3,0.5
//	go run ./cmd/bench -run simulated -world motor -first 101 -lives 16
//	go run ./cmd/bench trace -work 0.1 -off perturb      what each operator brought, and without one
//	go run ./cmd/bench lives -world motor -first 301 -lives 20 -loads 0.5,0.7 >FILE  seasons lived through, a line each
//	go run ./cmd/bench chances FILE...                   chances given on their mornings, and what came of them
//	go run ./cmd/bench sweep -param PerturbMore -values '0;6'     what another value of a parameter brings
//	go run ./cmd/bench -run growth -weeks 10,40 -together 1,6 -recipes 1 -work 0.2
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"slices"
	"strconv"
	"strings"
	"syscall"

	"golang.org/x/term"

	"primaprova/cmd/bench/simulation"
)

// bench is what the groups of rows share.
type bench struct {
	ctx     context.Context
	folder  string  // temporary
	demo    string  // the demo season's file
	seconds float64 // what each of the other solvers gets
	work    float64 // share of ours' ordinary budget
	seeds   int     // generated seasons of the demo's size
	runs    int     // runs of one season that have to give one plan
	pairs   int     // pairs of runs of the binding
	lives   simulation.Options
	fitted  bool // simulated: without an engine
	growing growing
	chosen  []string // groups
	rows    []row
	live    bool // progress may be told on stderr
}

// groups are the rows that -run chooses from, in the order of the table.
var groups = []struct {
	name string
	do   func(*bench)
}{
	{"engines", (*bench).engines},
	{"generated", (*bench).generated},
	{"midsize", (*bench).midsize},
	{"overfull", (*bench).overfull},
	{"growth", (*bench).growth},
	{"late", (*bench).late},
	{"days", (*bench).days},
	{"same", (*bench).same},
	{"binding", (*bench).binding},
	{"first", (*bench).first},
	{"start", (*bench).start},
	{"stand", (*bench).stand},
	{"publish", (*bench).publish},
	{"simulated", (*bench).simulated},
}

func main() { os.Exit(run(os.Args[1:])) }

func run(args []string) int {
	if len(args) == 1 && args[0] == childFlag {
		return serve(os.Stdin, os.Stdout)
	}
	if other := map[string]func([]string, io.Writer) error{"trace": traced, "sweep": swept, "lives": lived, "chances": chancesGiven}[strings.Join(args[:min(1, len(args))], "")]; other != nil {
		switch err := other(args[1:], os.Stdout); {
		case err == nil || errHelp(err):
			return 0
		default:
			fmt.Fprintln(os.Stderr, err)
			return 2
		}
	}
	b := &bench{live: term.IsTerminal(int(os.Stderr.Fd()))}
	flags, page := b.flags()
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return 0
		}
		return 2
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	b.ctx = ctx
	var err error
	if b.folder, err = os.MkdirTemp("", "primaprova-bench-"); err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	defer os.RemoveAll(b.folder)
	for _, g := range groups {
		if slices.Contains(b.chosen, g.name) && ctx.Err() == nil {
			g.do(b)
		}
	}
	err = b.print(os.Stdout)
	if err == nil && *page != "" {
		err = b.keep(*page, "`go run ./cmd/bench "+strings.Join(args, " ")+"`")
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	return 0
}

// flags are those of a run; page is where it is written to as well.
func (b *bench) flags() (flags *flag.FlagSet, page *string) {
	var names []string
	for _, g := range groups {
		names = append(names, g.name)
	}
	flags = flag.NewFlagSet("bench", flag.ContinueOnError)
	page = flags.String("to", "", "write to this `file` too, as docs/measured.md has it: the groups that are run, in place of what stands there of them")
	b.chosen = names
	flags.Func("run", "`groups` of rows, by commas (default all: "+strings.Join(names, ",")+")", func(text string) error {
		b.chosen = strings.Split(text, ",")
		for _, name := range b.chosen {
			if !slices.Contains(names, name) {
				return fmt.Errorf("%q: is none of %s", name, strings.Join(names, ", "))
			}
		}
		return nil
	})
	flags.StringVar(&b.demo, "season", "testdata/seasons/demo/season.yaml", "season `file` to compare on")
	flags.Float64Var(&b.seconds, "seconds", 0, "`seconds` that each other solver gets; 0: as many as ours took")
	flags.Float64Var(&b.work, "work", 1, "`share` of the ordinary budget that ours gets")
	flags.IntVar(&b.seeds, "seeds", 10, "`number` of seasons of generated, midsize and overfull")
	flags.IntVar(&b.runs, "runs", 6, "`number` of runs of one season, half of them under load")
	flags.IntVar(&b.pairs, "pairs", 7, "`number` of pairs of runs of the binding")
	flags.Func("loads", "simulated: `shares` of the room that the work asks for, by commas (default 0.3,0.5,0.7,0.85)", func(text string) error {
		for _, load := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' }) {
			share, err := shareOf(load)
			if err != nil {
				return err
			}
			b.lives.Tightnesses = append(b.lives.Tightnesses, share)
		}
		return nil
	})
	flags.Uint64Var(&b.lives.First, "first", 1, "simulated, midsize, overfull: the first season's `seed`; those not used yet are fresh")
	flags.Func("world", "simulated: `memory` of the player's passages, words or motor (default words)", func(text string) (err error) {
		b.lives.Motor, err = motorOf(text)
		return err
	})
	flags.IntVar(&b.lives.Seasons, "lives", 8, "simulated: `number` of seasons lived through for each load")
	flags.BoolVar(&b.fitted, "fitted", false, "simulated: plans are only fitted together, without an engine: quick")
	flags.Func("ways", "simulated: `ways`, held against the first, by commas, of "+strings.Join(simulation.Names(), ", ")+" (default urgent,again,blind,due)", func(text string) error {
		b.lives.Ways = strings.Split(text, ",")
		for _, way := range b.lives.Ways {
			if !slices.Contains(simulation.Names(), way) {
				return fmt.Errorf("%q: is none of %s", way, strings.Join(simulation.Names(), ", "))
			}
		}
		return nil
	})
	for _, l := range []struct {
		to          *[]int
		name, value string
		least, most int
		help        string
	}{
		{&b.growing.weeks, "weeks", "10,20,40,80,160", 4, 520, "growth: `weeks` of seasons of equal density; empty: none"},
		{&b.growing.together, "together", "1,2,3,4,5,6", 1, 12, "growth: most `programmes` at hand at once, in forty weeks; empty: none"},
		{&b.growing.seasons, "grown", "1", 1, 1000, "growth: `seeds` of the seasons, each gone through with all that"},
		{&b.growing.recipes, "recipes", "1,0", 0, 1, "growth: `kinds` of recipes, 1 for no two alike, 0 for ordinary ones"},
	} {
		*l.to, _ = wholes(l.value, l.least, l.most)
		flags.Func(l.name, l.help+" (default "+l.value+")", func(text string) (err error) {
			*l.to, err = wholes(text, l.least, l.most)
			return err
		})
	}
	return flags, page
}

// shareOf reads a share of the room that the work of simulated seasons asks for.
func shareOf(text string) (float64, error) {
	share, err := strconv.ParseFloat(text, 64)
	if err != nil || share <= 0 {
		return 0, fmt.Errorf("%q: is no share like 0.7", text)
	}
	return share, nil
}

// motorOf tells by the name of a simulated memory whether passages are remembered as skills.
func motorOf(world string) (bool, error) {
	if world != "words" && world != "motor" {
		return false, errors.New("is neither words nor motor")
	}
	return world == "motor", nil
}

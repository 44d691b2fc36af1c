package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"

	"primaprova/cmd/bench/simulation"
	"primaprova/solver/highs"
)

// lived lives seasons through, planned again as things happen, and writes a line for
// each: what stood on some mornings, and what came of it.
//
//	go run ./cmd/bench lives -world motor -first 301 -lives 20 -loads 0.5,0.7 >FILE
func lived(args []string, out io.Writer) error {
	flags := flag.NewFlagSet("bench lives", flag.ContinueOnError)
	world := flags.String("world", "words", "`memory` of the player's passages, words or motor")
	loads := flags.String("loads", "0.5,0.7", "`shares` of the room that the work asks for, by commas")
	first := flags.Uint64("first", 101, "the first season's `seed`")
	lives := flags.Uint64("lives", 8, "`number` of seasons lived through for each load")
	every := flags.Int("every", 7, "`days` between the mornings that are kept")
	work := flags.Float64("work", 0.03, "`share` of the ordinary budget of a planning; 0: no engine, what fails is only fitted in again")
	if err := flags.Parse(args); err != nil {
		return err
	}
	motor, err := motorOf(*world)
	if err != nil {
		return fmt.Errorf("-world: %q: %w", *world, err)
	}
	var shares []float64
	for load := range strings.SplitSeq(*loads, ",") {
		share, err := shareOf(load)
		if err != nil {
			return fmt.Errorf("-loads: %w", err)
		}
		shares = append(shares, share)
	}
	var engine *highs.Library
	if *work > 0 {
		if engine, err = highsLibrary(); err != nil {
			return err
		}
	}
	for seed := *first; seed < *first+*lives; seed++ {
		for _, share := range shares {
			l, err := simulation.Live(context.Background(), engine, seed, share, motor, *work, max(1, *every))
			if err != nil {
				return err
			}
			if err := l.Write(out); err != nil {
				return err
			}
		}
	}
	return nil
}

// chancesGiven writes what model/chance says on the mornings of seasons that were
// lived through, and what came of it, comma separated.
//
//	go run ./cmd/bench chances FILE...
func chancesGiven(args []string, out io.Writer) error {
	flags := flag.NewFlagSet("bench chances", flag.ContinueOnError)
	runs := flags.Int("runs", 400, "`plays` of each morning")
	if err := flags.Parse(args); err != nil {
		return err
	}
	fmt.Fprintln(out, "world,load,seed,day,part,ahead,left out,ready,worked,stood,reached")
	for _, name := range flags.Args() {
		file, err := os.Open(name)
		if err != nil {
			return err
		}
		all, err := simulation.ReadLived(file)
		file.Close()
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		for _, l := range all {
			for _, g := range l.Chances(*runs) {
				fmt.Fprintf(out, "%s,%.2f,%d,%d,%s,%d,%d,%.4f,%.4f,%t,%t\n", map[bool]string{false: "words", true: "motor"}[l.Motor], l.Tightness, l.Seed,
					g.Day, g.Part, g.Ahead, g.LeftOut, g.Ready, g.Worked, g.Stood, g.Reached)
			}
		}
	}
	return nil
}

// Command campaign throws at primaprova what it may meet, over and over, and
// counts: random seasons planned, recorded and planned again; calendars of honest
// and of hostile makers; commands killed; commands two at a time. It prints one
// table; whatever goes wrong is told with the seed that repeats it, and kept.
//
//	go run ./cmd/campaign -binary bin/primaprova -seed 1 -seasons 100000 ...
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"sync"
	"sync/atomic"
	"time"
)

// campaign is one run.
type campaign struct {
	binary  string
	engines string
	keep    string // what went wrong is left here
	seed    uint64
	until   time.Time // no new case is begun after it; zero: when all are done
	jobs    int

	replanned atomic.Int64
	bySolver  atomic.Int64 // of these

	mu  sync.Mutex
	bad int
}

// mostSaid is how many cases of a kind that went wrong are told one by one.
const mostSaid = 10

func main() {
	c := &campaign{}
	seasons := flag.Int("seasons", 2000, "random seasons, planned and audited")
	cycles := flag.Int("cycles", 500, "small seasons lived through: days recorded and planned again")
	honest := flag.Int("honest", 200, "calendars as real exporters write them")
	hostile := flag.Int("hostile", 500, "calendars made to keep a reader busy")
	kills := flag.Int("kills", 100, "commands killed at random moments")
	pairs := flag.Int("pairs", 100, "pairs of commands at once")
	hours := flag.Float64("hours", 0, "begin nothing new after so many hours; 0: until all is done")
	flag.StringVar(&c.binary, "binary", "bin/primaprova", "the program")
	flag.StringVar(&c.keep, "keep", "campaign-out", "folder for what goes wrong")
	flag.Uint64Var(&c.seed, "seed", 1, "where chance begins")
	flag.IntVar(&c.jobs, "jobs", runtime.NumCPU(), "cases under way at a time")
	measured := flag.Bool("measure", false, "run the rest of the line as a command, and say on the last line what it took")
	flag.Parse()
	if *measured {
		os.Exit(measure(flag.Args()))
	}
	if *hours > 0 {
		c.until = time.Now().Add(time.Duration(*hours * float64(time.Hour)))
	}
	var err error
	if c.binary, err = filepath.Abs(c.binary); err == nil {
		_, err = os.Stat(c.binary)
	}
	if err == nil {
		c.engines, err = filepath.Abs(filepath.Join(".deps", "engines"))
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	fmt.Printf("%-44s %9s %6s  %s\n", "what", "cases", "wrong", "")
	var honestly, hostilely worst
	c.table("calendars of honest makers", *honest, func(seed uint64) error { return c.honest(seed, &honestly) })
	fmt.Printf("  at most %v\n", &honestly)
	c.table("calendars of hostile makers", *hostile, func(seed uint64) error { return c.hostile(seed, &hostilely) })
	fmt.Printf("  at most %v\n", &hostilely)
	c.table("random seasons, planned and audited", *seasons, c.season)
	c.table("seasons recorded, planned again, audited", *cycles, c.cycle)
	fmt.Printf("  %d times planned again, %d of them by the engine\n", c.replanned.Load(), c.bySolver.Load())
	c.table("commands killed", *kills, c.kill)
	c.table("pairs of commands at once", *pairs, c.pair)
	if c.bad > 0 {
		os.Exit(1)
	}
}

// table runs cases of one kind and prints its row.
func (c *campaign) table(what string, n int, one func(seed uint64) error) {
	var next, done, wrong atomic.Int64
	var all sync.WaitGroup
	began := time.Now()
	for range c.jobs {
		all.Go(func() {
			for {
				i := next.Add(1) - 1
				if i >= int64(n) || !c.until.IsZero() && time.Now().After(c.until) {
					return
				}
				seed := c.seed + uint64(i)
				if err := one(seed); err != nil {
					c.mu.Lock()
					c.bad++
					if wrong.Add(1) <= mostSaid {
						fmt.Fprintf(os.Stderr, "%s, seed %d: %v\n", what, seed, err)
					}
					c.mu.Unlock()
				}
				done.Add(1)
			}
		})
	}
	all.Wait()
	fmt.Printf("%-44s %9d %6d  %.0f s\n", what, done.Load(), wrong.Load(), time.Since(began).Seconds())
}

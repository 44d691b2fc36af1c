package main

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"primaprova/io/planfile"
	"primaprova/io/recordfile"
	"primaprova/io/seasonfile"
)

const (
	planned = "2027-03-01"
	later   = "2027-03-03"
)

// small is the season that commands are said of.
var small = sync.OnceValues(func() (string, error) {
	b, err := os.ReadFile(filepath.Join("testdata", "seasons", "small.yaml"))
	return string(b), err
})

// stood makes a folder with the small season and its plan.
func (c *campaign) stood() (string, error) {
	text, err := small()
	if err != nil {
		return "", err
	}
	dir, err := folder(map[string]string{"season.yaml": text})
	if err != nil {
		return "", err
	}
	r, err := c.run(dir, planned, "plan", "--budget", "2")
	if err == nil && r.code != 0 {
		err = fmt.Errorf("plan: exit code %d: %s", r.code, r.said)
	}
	return dir, err
}

// commands are those that write, with what stands in a file when one has said
// that it wrote.
var commands = []struct {
	args []string
	file string
	mark string
}{
	{[]string{"pin", "thaw/icefields/read-through", "2027-03-09"}, "season.yaml", "session: thaw/icefields/read-through"},
	{[]string{"pin", "lantern/harbour/read-through", "2027-03-04"}, "season.yaml", "session: lantern/harbour/read-through"},
	{[]string{"pin", "lantern/harbour/12-28/visit-1", "2027-03-05"}, "season.yaml", "session: lantern/harbour/12-28/visit-1"},
	{[]string{"late", "icefields", "--arrives", "2027-03-08", "--budget", "2"}, "season.yaml", "arrives: 2027-03-08"},
	{[]string{"record", "--day-lost", "--note", "first"}, "season.record.jsonl", `"note":"first"`},
	{[]string{"record", "--pain", "--note", "second"}, "season.record.jsonl", `"note":"second"`},
	{[]string{"plan", "--budget", "2"}, "season.plan.json", `"format"`},
	{[]string{"export", "--ics", "season.ics"}, "season.ics", "END:VCALENDAR"},
}

// whole wants every file of a season to be one that can be read.
func whole(dir string) error {
	if _, err := seasonfile.Read(filepath.Join(dir, "season.yaml")); err != nil {
		return err
	}
	if _, err := planfile.Read(filepath.Join(dir, "season.plan.json")); err != nil {
		return err
	}
	_, err := recordfile.Read(filepath.Join(dir, "season.record.jsonl"))
	return err
}

// pair says two commands at once. Whoever says that it wrote has written; the
// other one's work is there, too.
func (c *campaign) pair(seed uint64) error {
	rnd := rand.New(rand.NewPCG(seed, 10))
	dir, err := c.stood()
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	picked := []int{rnd.IntN(len(commands)), rnd.IntN(len(commands))}
	waits := []time.Duration{0, time.Duration(rnd.IntN(30)) * time.Millisecond}
	results := make([]ran, 2)
	errs := make([]error, 2)
	var both sync.WaitGroup
	for i, n := range picked {
		both.Go(func() {
			time.Sleep(waits[i])
			results[i], errs[i] = c.run(dir, later, commands[n].args...)
		})
	}
	both.Wait()
	fail := func(form string, args ...any) error {
		return c.kept(dir, fmt.Sprintf("pair-%d", seed), fmt.Errorf("%v and %v: "+form, append([]any{commands[picked[0]].args, commands[picked[1]].args}, args...)...))
	}
	if err := errors.Join(errs...); err != nil {
		return fail("%w", err)
	}
	if err := whole(dir); err != nil {
		return fail("%w", err)
	}
	for i, n := range picked {
		k, r := commands[n], results[i]
		b, err := os.ReadFile(filepath.Join(dir, k.file))
		wrote := r.code == 0 || r.code == 3
		switch {
		case !wrote && !strings.Contains(r.said, "meanwhile"):
			return fail("exit code %d: %s", r.code, r.said)
		case wrote && (err != nil || !strings.Contains(string(b), k.mark)):
			return fail("%s does not hold what %v said it wrote: %s", k.file, k.args, r.said)
		}
	}
	return c.left(dir, seed, "pair")
}

// left wants nothing hidden to be left in a folder but the lock, once somebody
// has written after the others.
func (c *campaign) left(dir string, seed uint64, what string) error {
	if r, err := c.run(dir, later, "pin", "thaw/icefields/listening", "2027-03-09"); err != nil || r.code != 0 {
		return c.kept(dir, fmt.Sprintf("%s-%d", what, seed), fmt.Errorf("afterwards: %v %s", err, r.said))
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		return err
	}
	for _, e := range entries {
		if n := e.Name(); strings.HasPrefix(n, ".season.") && n != ".season.lock" && !strings.HasPrefix(n, ".season.ics") {
			return c.kept(dir, fmt.Sprintf("%s-%d", what, seed), fmt.Errorf("%s was left over", n))
		}
	}
	return nil
}

// kill says one command and kills it at a random moment. Every file is then one
// that can be read, and the same command said again ends as it should.
func (c *campaign) kill(seed uint64) error {
	rnd := rand.New(rand.NewPCG(seed, 11))
	dir, err := c.stood()
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	k := commands[rnd.IntN(len(commands))]
	ctx, cancel := context.WithTimeout(context.Background(), time.Duration(1+rnd.IntN(250))*time.Millisecond)
	defer cancel()
	cmd, _ := c.command(ctx, dir, later, k.args...)
	_ = cmd.Run()
	name := fmt.Sprintf("kill-%d", seed)
	if err := whole(dir); err != nil {
		return c.kept(dir, name, fmt.Errorf("%v: %w", k.args, err))
	}
	for _, args := range [][]string{{"show"}, k.args} {
		r, err := c.run(dir, later, args...)
		if err == nil && r.code != 0 && r.code != 3 {
			err = fmt.Errorf("exit code %d: %s", r.code, r.said)
		}
		if err != nil {
			return c.kept(dir, name, fmt.Errorf("%v after %v was killed: %w", args, k.args, err))
		}
	}
	return c.left(dir, seed, "kill")
}

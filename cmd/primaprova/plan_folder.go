package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"primaprova/io/table"
	"primaprova/model"
)

// eachNeeds is how many processors the planning of a season keeps busy.
const eachNeeds = 2

// planFolder plans every season of a folder, some at a time, and sums up.
func (a *app) planFolder(c *cobra.Command, root string, atOnce int, form details) error {
	if form.all {
		return wrong("--details says what one season came to").then("plan %s", quoted(root))
	}
	if atOnce < 0 {
		return wrong("--at-once: %d is less than 0", atOnce).then("plan --help")
	}
	if atOnce == 0 {
		atOnce = max(1, runtime.NumCPU()/eachNeeds)
	}
	files, others, err := seasonsOf(root)
	if err != nil {
		return fileTrouble(err)
	}
	for _, path := range others {
		a.say.aside("%s: passed over, it has no line that begins with %q.", path, seasonMark)
	}
	if len(files) == 0 {
		return wrong("%s: holds no season file", root).then("new %s", quoted(filepath.Join(root, "season.yaml")))
	}
	ctx, stop := interruptible(c.Context())
	defer stop()
	done := a.say.working(fmt.Sprintf("planning %s, %d at a time", several(len(files), "season", "seasons"), min(atOnce, len(files))))
	all := make([]plannedFile, len(files))
	var group sync.WaitGroup
	var counting sync.Mutex
	turns, n := make(chan struct{}, atOnce), 0
	for i, path := range files {
		group.Go(func() {
			turns <- struct{}{}
			defer func() { <-turns }()
			all[i] = planApart(ctx, path, sameFlags(c))
			counting.Lock()
			defer counting.Unlock()
			if n++; a.say.live {
				a.say.working(fmt.Sprintf("%d of %d seasons done", n, len(files)))
			}
		})
	}
	group.Wait()
	done()
	if err := a.sayFolder(root, all, form); err != nil {
		return err
	}
	return worst(all)
}

// plannedFile is what the planning of one of several seasons came to.
type plannedFile struct {
	File    string          `json:"file"`
	Exit    int             `json:"exit"`              // the exit code of its planning
	Planned json.RawMessage `json:"planned,omitempty"` // as plan --json says it; none where there is no plan
	Said    []string        `json:"said,omitempty"`    // why there is none
}

// planApart plans a season in a process of its own. One that has begun is waited for:
// Ctrl-C at a terminal reaches it too, and it keeps its best plan so far.
func planApart(ctx context.Context, path string, flags []string) plannedFile {
	out := plannedFile{File: path}
	if ctx.Err() != nil {
		out.Exit, out.Said = exitStopped, []string{path + ": stopped before it was planned"}
		return out
	}
	p, err := itself(context.Background(), append([]string{"plan", path, "--json"}, flags...)...)
	if err != nil {
		out.Exit, out.Said = exitInternal, []string{err.Error()}
		return out
	}
	var result, words bytes.Buffer
	p.Stdout, p.Stderr = &result, &words
	if err := p.Run(); err != nil {
		out.Exit = exitInternal
		if p.ProcessState != nil && p.ProcessState.ExitCode() > 0 {
			out.Exit = p.ProcessState.ExitCode()
		}
	}
	if json.Valid(result.Bytes()) {
		out.Planned = result.Bytes()
	} else {
		out.Said = strings.Split(strings.TrimSpace(words.String()), "\n")
	}
	return out
}

// sameFlags gives the flags of a command as they were given, for another process.
func sameFlags(c *cobra.Command) (out []string) {
	c.Flags().Visit(func(f *pflag.Flag) {
		if !slices.Contains([]string{"at-once", "json", "markdown", "width"}, f.Name) {
			out = append(out, "--"+f.Name+"="+f.Value.String())
		}
	})
	return out
}

// sayFolder says what became of several seasons, and apart what failed.
func (a *app) sayFolder(root string, all []plannedFile, form details) error {
	if form.asJSON {
		return a.say.json(all)
	}
	if form.asMarkdown {
		a.say.write(inMarkdown)
	}
	t := &table.Table{Columns: []table.Column{{Name: "season", Wraps: true}, {Name: "parts", Right: true, From: desk}, {Name: "ready", Right: true},
		{Name: "left out", Right: true}, {Name: "tightest week", From: desk}, {Name: "what became of it", Wraps: true}}}
	planned := 0
	for _, f := range all {
		name, err := filepath.Rel(root, f.File)
		if err != nil {
			name = f.File
		}
		if f.Planned == nil {
			t.Row(name, "", "", "", "", "not planned")
			continue
		}
		planned++
		x, err := summed(f.Planned)
		if err != nil {
			return err
		}
		t.Row(name, fmt.Sprint(x.parts), fmt.Sprint(x.ready), fmt.Sprint(x.leftOut), x.tightest, x.status)
	}
	a.say.title("%s: %d of %s planned", root, planned, several(len(all), "season", "seasons"))
	a.say.space()
	a.say.table(t)
	for _, f := range all {
		for _, line := range f.Said {
			a.say.aside("%s", line)
		}
	}
	return nil
}

// summary is what a table says of a planning.
type summary struct {
	parts, ready, leftOut int // parts that lie ahead, those that stand ready; sessions left out
	tightest, status      string
}

// summed reads a plannedView as it was written.
func summed(planned json.RawMessage) (out summary, err error) {
	var in struct {
		Status     model.PlanStatus
		Programmes []struct {
			Parts []struct {
				Ready *string
				Over  bool
			}
		}
		Load struct {
			Tightest string `json:"tightest_week"`
		}
		LeftOut struct{ Sessions []json.RawMessage } `json:"left_out"`
	}
	if err := json.Unmarshal(planned, &in); err != nil {
		return out, err
	}
	for _, p := range in.Programmes {
		for _, part := range p.Parts {
			if part.Over {
				continue
			}
			out.parts++
			if part.Ready != nil && *part.Ready != "" {
				out.ready++
			}
		}
	}
	out.leftOut, out.tightest, out.status = len(in.LeftOut.Sessions), in.Load.Tightest, statusWords[in.Status]
	return out, nil
}

// worst gives what the command ends in: the first season that could not be planned
// decides, and else whether one of them leaves something out.
func worst(all []plannedFile) error {
	code := exitDone
	for _, f := range all {
		switch {
		case f.Planned == nil:
			return &trouble{code: f.Exit}
		case f.Exit != exitDone:
			code = f.Exit
		}
	}
	if code == exitDone {
		return nil
	}
	return &trouble{code: code}
}

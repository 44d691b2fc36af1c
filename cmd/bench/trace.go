package main

import (
	"bufio"
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"slices"
	"strconv"
	"strings"

	"golang.org/x/term"

	"primaprova/io/seasonfile"
	"primaprova/io/table"
	"primaprova/model"
	"primaprova/solver"
)

// traced makes tables of what each operator tried, kept, saved and took and of the primal integrals, and a picture of the
// plan's wishes and their bounds over time: of files that `plan --trace` wrote, or of a season
// that is planned here, without the operators named.
//
//	go run ./cmd/bench trace season.jsonl -picture season.svg
//	go run ./cmd/bench trace -work 0.1 -off perturb,recombine
func traced(args []string, out io.Writer) error {
	flags := flag.NewFlagSet("bench trace", flag.ContinueOnError)
	season := flags.String("season", "testdata/seasons/demo/season.yaml", "season `file` to plan where no trace is named")
	work := flags.Float64("work", 0.1, "`share` of the ordinary budget")
	off := flags.String("off", "", "`operators` that are left out, by commas: "+strings.Join(solver.Operators, ", "))
	picture := flags.String("picture", "", "write a picture to this `file`, an SVG")
	var files []string
	for rest := args; ; {
		if err := flags.Parse(rest); err != nil {
			return err
		}
		if flags.NArg() == 0 {
			break
		}
		files, rest = append(files, flags.Arg(0)), flags.Args()[1:]
	}
	var events []solver.Event
	for _, name := range files {
		more, err := readTrace(name)
		if err != nil {
			return err
		}
		events = append(events, more...)
	}
	note := ""
	if len(files) == 0 {
		var err error
		if events, note, err = planTraced(*season, *work, strings.FieldsFunc(*off, func(r rune) bool { return r == ',' })); err != nil {
			return err
		}
	}
	if *picture != "" {
		if err := os.WriteFile(*picture, []byte(timeline(events)), 0o666); err != nil {
			return err
		}
	}
	width := 0
	if w, _, err := term.GetSize(int(os.Stdout.Fd())); err == nil {
		width = w
	}
	if err := byOperator(events).Write(out, width); err != nil {
		return err
	}
	if err := integrals(events).Write(out, width); err != nil {
		return err
	}
	_, err := io.WriteString(out, note)
	return err
}

func readTrace(name string) (events []solver.Event, err error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	lines := bufio.NewScanner(f)
	for n := 1; lines.Scan(); n++ {
		var e solver.Event
		if err := json.Unmarshal(lines.Bytes(), &e); err != nil {
			return nil, fmt.Errorf("%s:%d: %w", name, n, err)
		}
		events = append(events, e)
	}
	return events, lines.Err()
}

// planTraced plans a season without some operators, and says what came of it.
func planTraced(name string, work float64, off []string) (events []solver.Event, note string, err error) {
	for _, o := range off {
		if !slices.Contains(solver.Operators, o) {
			return nil, "", fmt.Errorf("-off: %q: is none of %s", o, strings.Join(solver.Operators, ", "))
		}
	}
	f, err := seasonfile.Read(name)
	if err != nil {
		return nil, "", err
	}
	engine, err := highsLibrary()
	if err != nil {
		return nil, "", err
	}
	params := solver.Tuned
	params.Off = off
	plan, err := solver.Solve(context.Background(), f.Season, solver.Options{Engine: engine, Work: work, Tolerance: model.DefaultTolerance,
		Params: &params, Trace: func(e solver.Event) { events = append(events, e) }})
	if err != nil {
		return nil, "", err
	}
	var b strings.Builder
	fmt.Fprintf(&b, "\n%d sessions, %d left out", len(plan.Sessions), len(plan.Unplaced))
	for _, w := range plan.Provenance.Wishes {
		fmt.Fprintf(&b, "; %s %v, at least %v %s", w.Name, w.Value, w.Bound, w.Unit)
	}
	return events, b.String() + "\n", nil
}

// byOperator sums events up by phase and operator.
func byOperator(events []solver.Event) *table.Table {
	type key struct{ phase, operator string }
	sums := map[key]*solver.Event{}
	var order []key
	for _, e := range events {
		k := key{e.Phase, e.Operator}
		s := sums[k]
		if s == nil {
			s = &solver.Event{Phase: e.Phase, Operator: e.Operator}
			sums[k], order = s, append(order, k)
		}
		s.Tried += e.Tried
		s.Kept += e.Kept
		s.Saved += e.Saved
		s.Work += e.Work
		s.Iterations += e.Iterations
		s.Seconds += e.Seconds
	}
	place := func(k key) int { return slices.Index(solver.Operators, k.operator) }
	slices.SortStableFunc(order, func(a, b key) int { return cmp.Or(cmp.Compare(place(a), place(b)), cmp.Compare(a.phase, b.phase)) })
	t := &table.Table{Columns: []table.Column{{Name: "operator"}, {Name: "phase"}, {Name: "tried", Right: true}, {Name: "kept", Right: true},
		{Name: "saved", Right: true}, {Name: "LP work, millions", Right: true}, {Name: "MIP iterations", Right: true}, {Name: "seconds", Right: true}}}
	for _, k := range order {
		s := sums[k]
		t.Row(s.Operator, s.Phase, strconv.Itoa(s.Tried), strconv.Itoa(s.Kept), number(s.Saved, 1), number(float64(s.Work)/1e6, 1), number(float64(s.Iterations), 0), number(s.Seconds, 2))
	}
	return t
}

// errHelp tells a call for help from a fault.
func errHelp(err error) bool { return errors.Is(err, flag.ErrHelp) }

// timeline draws what the plan costs in body and spacing over time, each on a scale of its own, and
// what is proven of them, dashed: an SVG.
func timeline(events []solver.Event) string {
	const width, height, left, top = 720.0, 260.0, 60.0, 30.0
	end := 0.0
	for _, e := range events {
		end = max(end, e.At)
	}
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %v %v" font-family="sans-serif" font-size="12">`+"\n", width+2*left, 2*(height+2*top))
	for n, w := range []model.Wish{model.Body, model.Spacing} {
		y0 := float64(n)*(height+2*top) + top
		most := 0.0
		for _, e := range events {
			if len(e.Score) > int(w) {
				most = max(most, e.Score[w])
			}
			if e.Wish == w.String() {
				most = max(most, e.Bound)
			}
		}
		at := func(e *solver.Event, v float64) string {
			return fmt.Sprintf("%.1f,%.1f", left+width*e.At/max(end, 1e-9), y0+height*(1-v/max(most, 1e-9)))
		}
		var value, bound []string
		for i := range events {
			e := &events[i]
			if len(e.Score) > int(w) {
				value = append(value, at(e, e.Score[w]))
			}
			if e.Wish == w.String() && e.Bound > 0 {
				bound = append(bound, at(e, e.Bound))
			}
		}
		fmt.Fprintf(&b, `<rect x="%v" y="%v" width="%v" height="%v" fill="none" stroke="#888"/>`+"\n", left, y0, width, height)
		fmt.Fprintf(&b, `<text x="%v" y="%v">%s: the plan, and what is proven (dashed); %.0f s along, up to %.0f %s</text>`+"\n", left, y0-8, w, end, most, w.Unit())
		fmt.Fprintf(&b, `<polyline points="%s" fill="none" stroke="#1f5f99" stroke-width="1.5"/>`+"\n", strings.Join(value, " "))
		fmt.Fprintf(&b, `<polyline points="%s" fill="none" stroke="#a33" stroke-width="1.5" stroke-dasharray="5 3"/>`+"\n", strings.Join(bound, " "))
	}
	return b.String() + "</svg>\n"
}

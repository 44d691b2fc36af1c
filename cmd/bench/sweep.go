package main

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"reflect"
	"strings"

	"primaprova/io/table"
	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver"
)

// swept plans seasons once for each value of one parameter, and makes a table of what came of
// it. Values are JSON, since a parameter may be a list; the first row is the ordinary value's.
//
//	go run ./cmd/bench sweep -param PerturbMore -values '0;1;6' -seasons 3 -work 0.1
//	go run ./cmd/bench sweep -param Off -values '["move"];["anneal","fill"]'
func swept(args []string, out io.Writer) error {
	flags := flag.NewFlagSet("bench sweep", flag.ContinueOnError)
	name := flags.String("param", "", "`field` of solver/run.Params")
	values := flags.String("values", "", "its `values` in JSON, by semicolons")
	file := flags.String("season", "", "season `file`; empty: generated ones")
	seasons := flags.Int("seasons", 3, "`number` of generated seasons")
	weeks := flags.Int("weeks", 20, "their `weeks`")
	work := flags.Float64("work", 0.1, "`share` of the ordinary budget")
	if err := flags.Parse(args); err != nil {
		return err
	}
	field := reflect.ValueOf(&solver.Params{}).Elem().FieldByName(*name)
	if !field.IsValid() {
		return fmt.Errorf("-param: %q: is none of the parameters in solver/run/params.go", *name)
	}
	ordinary, err := json.Marshal(reflect.ValueOf(solver.Tuned).FieldByName(*name).Interface())
	if err != nil {
		return err
	}
	engine, err := highsLibrary()
	if err != nil {
		return err
	}
	t := &table.Table{Columns: []table.Column{{Name: *name}, {Name: "season"}, {Name: "cpu s", Right: true}, {Name: "left out", Right: true}}}
	for _, w := range model.Wishes {
		t.Columns = append(t.Columns, table.Column{Name: w.String(), Right: true})
	}
	for n := range *seasons {
		season, called := invent.Season(invent.Grown(*weeks, 0, true, uint64(n+1))), fmt.Sprintf("%d weeks, seed %d", *weeks, n+1)
		if *file != "" {
			if season, err = (&task{File: *file}).season(); err != nil {
				return err
			}
			called = *file
		}
		for value := range strings.SplitSeq(string(ordinary)+";"+*values, ";") {
			params := solver.Tuned
			to := reflect.ValueOf(&params).Elem().FieldByName(*name)
			to.SetZero() // lists are no one else's
			if err := json.Unmarshal([]byte(value), to.Addr().Interface()); err != nil {
				return fmt.Errorf("-values: %s: %w", value, err)
			}
			cpu := solver.Processor()
			plan, err := solver.Solve(context.Background(), season, solver.Options{Engine: engine, Work: *work, Tolerance: model.DefaultTolerance, Params: &params})
			if err != nil {
				return err
			}
			cells := []string{value, called, number(solver.Processor()-cpu, 1), fmt.Sprint(len(plan.Unplaced))}
			for _, w := range plan.Provenance.Wishes {
				cells = append(cells, wishCell(w))
			}
			t.Row(cells...)
		}
		if *file != "" {
			break
		}
	}
	return t.Write(out, 0)
}

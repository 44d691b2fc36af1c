package main

import (
	"bytes"
	"encoding/json"

	"primaprova/io/disk"
	"primaprova/solver"
)

// tracing gathers what the solver tells while it plans, one JSON object a line.
type tracing struct {
	file string // empty: nobody asked
	out  bytes.Buffer
	err  error
}

// tell gives the function that the solver calls; nil where nobody asked.
func (t *tracing) tell() func(solver.Event) {
	if t.file == "" {
		return nil
	}
	lines := json.NewEncoder(&t.out)
	return func(e solver.Event) {
		if t.err == nil {
			t.err = lines.Encode(e)
		}
	}
}

// write writes the file, whole.
func (t *tracing) write() error {
	if t.file == "" || t.err != nil {
		return t.err
	}
	return disk.Write(t.file, t.out.Bytes(), 0o666)
}

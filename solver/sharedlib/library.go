// Package sharedlib loads shared libraries and finds the functions in them, without cgo,
// in the same words on every system. Nothing is ever unloaded.
//
// On Windows a library's own libraries are looked for in its own folder and in the
// system's, and nowhere else: not in the current folder, not along PATH. Elsewhere the
// library's run path says where they lie.
package sharedlib

import (
	"fmt"
	"strings"

	"github.com/ebitengine/purego"
)

// A Library is a loaded file.
type Library struct{ handle uintptr }

// A Function is one to be found: its name in C, and a pointer to the variable of a
// function type that is to call it. C's int is 32 bits wide: int32 in Go.
type Function struct {
	Name string
	Into any
}

// Bind finds functions and sets their variables: all of them or, where one is missing,
// none. The error names every missing one.
func (l Library) Bind(functions []Function) error {
	symbols := make([]uintptr, len(functions))
	var missing []string
	for i, f := range functions {
		symbol, err := l.Symbol(f.Name)
		if err != nil || symbol == 0 {
			missing = append(missing, f.Name)
		}
		symbols[i] = symbol
	}
	if missing != nil {
		return fmt.Errorf("it lacks %s", strings.Join(missing, ", "))
	}
	for i, symbol := range symbols {
		purego.RegisterFunc(functions[i].Into, symbol)
	}
	return nil
}

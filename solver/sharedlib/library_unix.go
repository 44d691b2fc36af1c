//go:build unix

package sharedlib

import (
	"runtime"
	"unsafe"

	"github.com/ebitengine/purego"
)

// Open loads the file at path, with all that it needs: what is missing is an error here,
// not an abort in the middle of a run.
func Open(path string) (Library, error) {
	handle, err := purego.Dlopen(path, purego.RTLD_NOW|purego.RTLD_LOCAL)
	return Library{handle}, err
}

// Symbol gives the address of a function or variable.
func (l Library) Symbol(name string) (uintptr, error) { return purego.Dlsym(l.handle, name) }

// C is the C library that the process, and so every library in it, uses already.
func C() (Library, error) { return Library{purego.RTLD_DEFAULT}, nil }

// Stdout gives C's standard output, a FILE*.
func Stdout() (uintptr, error) {
	name := "stdout"
	if runtime.GOOS == "darwin" {
		name = "__stdoutp"
	}
	at, err := purego.Dlsym(purego.RTLD_DEFAULT, name)
	if err != nil {
		return 0, err
	}
	return **(**uintptr)(unsafe.Pointer(&at)), nil // the variable's own place holds the stream's
}

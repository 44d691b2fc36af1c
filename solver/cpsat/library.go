package cpsat

import (
	"fmt"
	"path/filepath"
	"sync"
	"unsafe"

	"primaprova/solver/sharedlib"
)

// Library is the loaded engine. It may be used by many goroutines at once.
type Library struct {
	path       string
	newEnv     func() uintptr
	destroyEnv func(env uintptr)
	stopSearch func(env uintptr)
	// C's int is 32 bits wide, so lengths are int32: Go's int would be read
	// from the wrong half on some machines.
	solve func(env uintptr, model *byte, modelLen int32, params *byte, paramsLen int32,
		answer *unsafe.Pointer, answerLen *int32)
	free func(unsafe.Pointer)
}

var (
	opening sync.Mutex
	opened  *Library
)

// Open loads libortools from path, the file itself. Its dependencies must lie
// where its run path looks for them, which is beside it. Loading takes about
// 110 ms, once for each process; later calls with the same file return the
// same Library.
//
// A second file is refused. Both would register the same protocol buffers with
// the one copy of libprotobuf that the loader keeps, and that aborts.
//
// The library is never unloaded: its threads and static objects outlive any
// moment at which that would be safe.
func Open(path string) (*Library, error) {
	opening.Lock()
	defer opening.Unlock()
	real, err := filepath.Abs(path)
	if err != nil {
		return nil, fmt.Errorf("cpsat: %s: %w", path, err)
	}
	if real, err = filepath.EvalSymlinks(real); err != nil {
		return nil, fmt.Errorf("cpsat: the OR-Tools library is not there: %w", err)
	}
	if opened != nil {
		if opened.path != real {
			return nil, fmt.Errorf("cpsat: %s: %s is loaded already, and a process can hold only one", real, opened.path)
		}
		return opened, nil
	}
	lib, err := load(real)
	if err != nil {
		return nil, err
	}
	opened = lib
	return lib, nil
}

func load(path string) (*Library, error) {
	handle, err := sharedlib.Open(path)
	if err != nil {
		return nil, fmt.Errorf("cpsat: %s cannot be loaded: %w", path, err)
	}
	l := &Library{path: path}
	if err := handle.Bind([]sharedlib.Function{
		{Name: "SolveCpNewEnv", Into: &l.newEnv},
		{Name: "SolveCpDestroyEnv", Into: &l.destroyEnv},
		{Name: "SolveCpStopSearch", Into: &l.stopSearch},
		{Name: "SolveCpInterruptible", Into: &l.solve},
	}); err != nil {
		return nil, fmt.Errorf("cpsat: %s is not the library of OR-Tools 9.15: %w", path, err)
	}
	// Answers are allocated with malloc, so the process's own free, which may be a preloaded
	// allocator's, is the one to release them.
	c, err := sharedlib.C()
	if err == nil {
		err = c.Bind([]sharedlib.Function{{Name: "free", Into: &l.free}})
	}
	if err != nil {
		return nil, fmt.Errorf("cpsat: the C library: %w", err)
	}
	return l, nil
}

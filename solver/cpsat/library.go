package cpsat

import (
	"context"
	"fmt"
	"path/filepath"
	"runtime"
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

// env is one solve's handle in the engine. It serves a single solve: a second
// one on it would abort the process.
type env struct {
	lib *Library
	// mu keeps stop from touching a handle that destroy has released. It is not
	// held during the solve, or stop could never come through.
	mu     sync.Mutex
	handle uintptr
}

func (l *Library) open() *env { return &env{lib: l, handle: l.newEnv()} }

// stop asks the engine to end soon with what it has. A stop that comes before
// the solve is remembered.
func (e *env) stop() {
	e.mu.Lock()
	defer e.mu.Unlock()
	if e.handle != 0 {
		e.lib.stopSearch(e.handle)
	}
}

func (e *env) destroy() {
	e.mu.Lock()
	defer e.mu.Unlock()
	if e.handle != 0 {
		e.lib.destroyEnv(e.handle)
		e.handle = 0
	}
}

// run sends the bytes and returns the answer's bytes, in Go's memory.
func (l *Library) run(ctx context.Context, model, params []byte) []byte {
	e := l.open()
	defer e.destroy()
	// AfterFunc's goroutine may still be on its way to stop when run returns,
	// which is what env.mu is for.
	defer context.AfterFunc(ctx, e.stop)()

	var answer unsafe.Pointer
	var length int32
	l.solve(e.handle, unsafe.SliceData(model), int32(len(model)),
		unsafe.SliceData(params), int32(len(params)), &answer, &length)
	runtime.KeepAlive(model)
	runtime.KeepAlive(params)
	if answer == nil {
		return nil
	}
	defer l.free(answer)
	return append([]byte(nil), unsafe.Slice((*byte)(answer), length)...)
}

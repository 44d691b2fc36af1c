package cpsat

import (
	"context"
	"runtime"
	"sync"
	"unsafe"
)

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

package sharedlib

import (
	"errors"
	"fmt"
	"path/filepath"
	"sync"

	"golang.org/x/sys/windows"
)

// Open loads the file at path, with all that it needs.
func Open(path string) (Library, error) {
	abs, err := filepath.Abs(path)
	if err != nil {
		return Library{}, err
	}
	handle, err := windows.LoadLibraryEx(abs, 0,
		windows.LOAD_LIBRARY_SEARCH_DLL_LOAD_DIR|windows.LOAD_LIBRARY_SEARCH_SYSTEM32)
	if errors.Is(err, windows.ERROR_MOD_NOT_FOUND) {
		// Windows says this of the file itself and of what it needs alike.
		return Library{}, fmt.Errorf("%s, or a library that it needs: %w", abs, err)
	}
	if err != nil {
		return Library{}, fmt.Errorf("%s: %w", abs, err)
	}
	return Library{uintptr(handle)}, nil
}

// Symbol gives the address of a function or variable.
func (l Library) Symbol(name string) (uintptr, error) {
	return windows.GetProcAddress(windows.Handle(l.handle), name)
}

// C is the C library of the system, which libraries built with Visual C++ since 2015 use.
func C() (Library, error) { return universal() }

var universal = sync.OnceValues(func() (Library, error) {
	handle, err := windows.LoadLibraryEx("ucrtbase.dll", 0, windows.LOAD_LIBRARY_SEARCH_SYSTEM32)
	if err != nil {
		return Library{}, fmt.Errorf("ucrtbase.dll: %w", err)
	}
	return Library{uintptr(handle)}, nil
})

// Stdout gives C's standard output, a FILE*.
func Stdout() (uintptr, error) {
	c, err := C()
	if err != nil {
		return 0, err
	}
	var stream func(number uint32) uintptr
	if err := c.Bind([]Function{{"__acrt_iob_func", &stream}}); err != nil {
		return 0, err
	}
	return stream(1), nil
}

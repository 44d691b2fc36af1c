// Package highs solves linear and mixed-integer programs with HiGHS, through
// the C interface of its shared library and without cgo. It takes programs as
// mip.Model and knows no music. Where the library comes from is not its affair:
// Open is given a file.
//
// Library.Solve and Library.SolveFile solve one program once. LP keeps a linear
// program inside the engine, to be changed and solved again from where the last
// run ended.
//
// Nothing is ever printed: the engine's log is off and its standard output is
// not used. Its signal handling is not used either; a context stops a run.
// Different programs may be solved at the same time by different goroutines.
package highs

import (
	"errors"
	"fmt"
	"path/filepath"
	"reflect"
	"sync"
	"unsafe"

	"primaprova/solver/sharedlib"
)

// The oldest release whose interface this package was written to, and checked
// with. A later release of the same major number is taken too.
const (
	needMajor = 1
	needMinor = 12
)

// Library is a loaded HiGHS. It stays loaded until the process ends.
type Library struct {
	version string
	c       calls
	out     outLayout
}

var (
	opened   = map[string]*Library{}
	openedMu sync.Mutex
)

// Open loads the shared library at path, or returns the one it loaded from
// there before. The libraries it depends on must lie where it looks for them,
// which for the official builds is beside it. A file that cannot be loaded,
// lacks a function, or is older than HiGHS 1.12 is an error that says so.
func Open(path string) (*Library, error) {
	openedMu.Lock()
	defer openedMu.Unlock()
	abs, err := filepath.Abs(path)
	if err != nil {
		return nil, fmt.Errorf("highs: %w", err)
	}
	if l := opened[abs]; l != nil {
		return l, nil
	}
	handle, err := sharedlib.Open(abs)
	if err != nil {
		return nil, fmt.Errorf("highs: cannot load the library: %w", err)
	}
	hush()
	l := &Library{}
	if err := l.c.bind(handle); err != nil {
		return nil, fmt.Errorf("highs: %s: %w", abs, err)
	}
	if err := l.check(); err != nil {
		return nil, fmt.Errorf("highs: %s: %w", abs, err)
	}
	opened[abs] = l
	return l, nil
}

// Version returns what the library says of itself, like "1.12.0".
func (l *Library) Version() string { return l.version }

// check refuses a library with whose memory layout we would disagree.
func (l *Library) check() error {
	l.version = l.c.version()
	major, minor := l.c.versionMajor(), l.c.versionMinor()
	if major != needMajor || minor < needMinor {
		return fmt.Errorf("this is HiGHS %s; wanted %d.%d or a later %d", l.version, needMajor, needMinor, needMajor)
	}
	h := l.c.create()
	if h == 0 {
		return errors.New("the engine could not be started")
	}
	defer l.c.destroy(h)
	// There are builds with 64-bit indices under the same names.
	if size := l.c.getSizeofHighsInt(h); size != 4 {
		return fmt.Errorf("its integers have %d bytes; wanted a build with 4", size)
	}
	return l.out.find(&l.c)
}

// calls holds the functions of the C interface that we use, under their names
// without "Highs_". A handle is the engine's own pointer, of no use to Go.
type calls struct {
	create            func() uintptr        `c:"Highs_create"`
	destroy           func(h uintptr)       `c:"Highs_destroy"`
	version           func() string         `c:"Highs_version"`
	versionMajor      func() int32          `c:"Highs_versionMajor"`
	versionMinor      func() int32          `c:"Highs_versionMinor"`
	getSizeofHighsInt func(h uintptr) int32 `c:"Highs_getSizeofHighsInt"`

	resetOptions         func(h uintptr) int32                             `c:"Highs_resetOptions"`
	setBoolOptionValue   func(h uintptr, name string, value int32) int32   `c:"Highs_setBoolOptionValue"`
	setIntOptionValue    func(h uintptr, name string, value int32) int32   `c:"Highs_setIntOptionValue"`
	setDoubleOptionValue func(h uintptr, name string, value float64) int32 `c:"Highs_setDoubleOptionValue"`
	setStringOptionValue func(h uintptr, name, value string) int32         `c:"Highs_setStringOptionValue"`

	passMip func(h uintptr, cols, rows, nonzeros, format, sense int32, offset float64,
		cost, colLower, colUpper, rowLower, rowUpper *float64, start, index *int32, value *float64, integrality *int32) int32 `c:"Highs_passMip"`
	readModel func(h uintptr, file string) int32 `c:"Highs_readModel"`
	getNumCol func(h uintptr) int32              `c:"Highs_getNumCol"`
	getNumRow func(h uintptr) int32              `c:"Highs_getNumRow"`

	setSolution          func(h uintptr, col, row, colDual, rowDual *float64) int32 `c:"Highs_setSolution"`
	run                  func(h uintptr) int32                                      `c:"Highs_run"`
	zeroAllClocks        func(h uintptr) int32                                      `c:"Highs_zeroAllClocks"`
	resetGlobalScheduler func(blocking int32)                                       `c:"Highs_resetGlobalScheduler"`

	getModelStatus     func(h uintptr) int32                                      `c:"Highs_getModelStatus"`
	getSolution        func(h uintptr, col, colDual, row, rowDual *float64) int32 `c:"Highs_getSolution"`
	getIntInfoValue    func(h uintptr, name string, value *int32) int32           `c:"Highs_getIntInfoValue"`
	getInt64InfoValue  func(h uintptr, name string, value *int64) int32           `c:"Highs_getInt64InfoValue"`
	getDoubleInfoValue func(h uintptr, name string, value *float64) int32         `c:"Highs_getDoubleInfoValue"`

	setCallback            func(h, fn, user uintptr) int32                      `c:"Highs_setCallback"`
	startCallback          func(h uintptr, kind int32) int32                    `c:"Highs_startCallback"`
	getCallbackDataOutItem func(out unsafe.Pointer, name string) unsafe.Pointer `c:"Highs_getCallbackDataOutItem"`

	addCols               func(h uintptr, count int32, cost, lower, upper *float64, nonzeros int32, start, index *int32, value *float64) int32 `c:"Highs_addCols"`
	addRows               func(h uintptr, count int32, lower, upper *float64, nonzeros int32, start, index *int32, value *float64) int32       `c:"Highs_addRows"`
	deleteColsBySet       func(h uintptr, count int32, set *int32) int32                                                                       `c:"Highs_deleteColsBySet"`
	changeColsCostBySet   func(h uintptr, count int32, set *int32, cost *float64) int32                                                        `c:"Highs_changeColsCostBySet"`
	changeColsBoundsBySet func(h uintptr, count int32, set *int32, lower, upper *float64) int32                                                `c:"Highs_changeColsBoundsBySet"`
	changeRowsBoundsBySet func(h uintptr, count int32, set *int32, lower, upper *float64) int32                                                `c:"Highs_changeRowsBoundsBySet"`
	clearSolver           func(h uintptr) int32                                                                                                `c:"Highs_clearSolver"` // of tests alone
}

// bind finds all functions, or none.
func (c *calls) bind(handle sharedlib.Library) error {
	v := reflect.ValueOf(c).Elem()
	functions := make([]sharedlib.Function, v.NumField())
	for i := range functions {
		f := v.Type().Field(i)
		// The fields are not exported, so reflection alone may not set them.
		functions[i] = sharedlib.Function{Name: f.Tag.Get("c"), Into: reflect.NewAt(f.Type, v.Field(i).Addr().UnsafePointer()).Interface()}
	}
	return handle.Bind(functions)
}

// hush keeps what the engine prints past its own log from ever reaching the
// user: release 1.12 has a line of its makers left in, printed when a point has
// to be solved for again. C's standard output gets a large buffer of its own,
// which is thrown away when the process ends, since nothing here flushes it.
// Where the C library has no such functions under these names, nothing happens.
var hush = sync.OnceFunc(func() {
	var setvbuf func(stream uintptr, buffer *byte, mode int32, size uintptr) int32
	c, err := sharedlib.C()
	if err != nil || c.Bind([]sharedlib.Function{{Name: "setvbuf", Into: &setvbuf}}) != nil {
		return
	}
	stream, err := sharedlib.Stdout()
	if err != nil {
		return
	}
	const fully = 0 // _IOFBF, in glibc, musl, macOS and Windows
	hushBuffer = make([]byte, 1<<20)
	setvbuf(stream, unsafe.SliceData(hushBuffer), fully, uintptr(len(hushBuffer)))
})

var hushBuffer []byte // C holds on to it

package highs

import (
	"sync"
	"unsafe"

	"primaprova/solver/sharedlib"
)

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

package highs

import (
	"runtime"
	"sync"
	"unsafe"

	"github.com/ebitengine/purego"
)

// hush keeps what the engine prints past its own log from ever reaching the
// user: release 1.12 has a line of its makers left in, printed when a point has
// to be solved for again. C's standard output gets a large buffer of its own,
// which is thrown away when the process ends, since nothing here flushes it.
// Where the C library has no such functions under these names, nothing happens.
var hush = sync.OnceFunc(func() {
	file := "stdout"
	if runtime.GOOS == "darwin" {
		file = "__stdoutp"
	}
	set, err := purego.Dlsym(purego.RTLD_DEFAULT, "setvbuf")
	if err != nil {
		return
	}
	out, err := purego.Dlsym(purego.RTLD_DEFAULT, file)
	if err != nil {
		return
	}
	const fully = 0 // _IOFBF, in glibc, musl and macOS
	hushBuffer = make([]byte, 1<<20)
	stream := **(**uintptr)(unsafe.Pointer(&out)) // the variable's own place holds the stream's
	purego.SyscallN(set, stream, uintptr(unsafe.Pointer(&hushBuffer[0])), fully, uintptr(len(hushBuffer)))
})

var hushBuffer []byte // C holds on to it

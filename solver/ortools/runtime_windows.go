package ortools

import (
	"fmt"
	"unsafe"

	"golang.org/x/sys/windows"
)

// cxxRuntime is what every library of OR-Tools needs and no wheel carries. Its makers let
// only those hand it on who have a licence of Visual Studio, so it is asked for.
var cxxRuntime = [...]string{"msvcp140.dll", "vcruntime140.dll", "vcruntime140_1.dll"}

const runtimeAdvice = "install Microsoft's Visual C++ Redistributable for x64: winget install Microsoft.VCRedist.2015+.x64"

// oldestRuntime is the version from which on locks made by the compiler the release was
// built with (14.44) work; an older run-time library ends the process at the first lock.
const oldestRuntime = 14<<16 | 40

// openRuntime opens the system's C++ run-time library, from the system's folder alone.
func openRuntime() error {
	for _, name := range cxxRuntime {
		handle, err := windows.LoadLibraryEx(name, 0, windows.LOAD_LIBRARY_SEARCH_SYSTEM32)
		if err != nil {
			return fmt.Errorf("%s, which it needs: %w", name, err)
		}
		if v, ok := fileVersion(handle); ok && v < oldestRuntime {
			return fmt.Errorf("%s, which it needs, is of version %d.%d; wanted %d.%d or later",
				name, v>>16, v&0xffff, oldestRuntime>>16, oldestRuntime&0xffff)
		}
	}
	return nil
}

// fileVersion gives the first two numbers of a loaded library's version, if its file tells one.
func fileVersion(handle windows.Handle) (uint32, bool) {
	path := make([]uint16, windows.MAX_LONG_PATH)
	n, err := windows.GetModuleFileName(handle, &path[0], uint32(len(path)))
	if err != nil {
		return 0, false
	}
	name := windows.UTF16ToString(path[:n])
	size, err := windows.GetFileVersionInfoSize(name, nil)
	if err != nil {
		return 0, false
	}
	block := make([]byte, size)
	if err := windows.GetFileVersionInfo(name, 0, size, unsafe.Pointer(&block[0])); err != nil {
		return 0, false
	}
	var info *windows.VS_FIXEDFILEINFO
	var length uint32
	if err := windows.VerQueryValue(unsafe.Pointer(&block[0]), `\`, unsafe.Pointer(&info), &length); err != nil || length == 0 {
		return 0, false
	}
	return info.FileVersionMS, true
}

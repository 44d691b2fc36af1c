package ortools

import "fmt"

// A Library is one of the two engines.
type Library int

const (
	HiGHS Library = iota // linear and integer programs; needs only the C++ run-time library
	CPSAT                // constraint programs; needs some hundred libraries beside it
)

func (l Library) String() string {
	switch l {
	case HiGHS:
		return "HiGHS"
	case CPSAT:
		return "CP-SAT"
	}
	return fmt.Sprintf("Library(%d)", int(l))
}

// bundles names the bundles whose files the library needs, itself included. HiGHS is
// among the libraries that libortools is linked against.
func (l Library) bundles() []string {
	if l == HiGHS {
		return []string{"highs"}
	}
	return []string{"highs", "cpsat"}
}

// FileName is the name of the library's own file on goos.
func (l Library) FileName(goos string) string {
	name, major := "ortools", "9"
	if l == HiGHS {
		name, major = "highs", "1"
	}
	switch goos {
	case "darwin":
		return "lib" + name + "." + major + ".dylib"
	case "windows":
		return name + ".dll"
	}
	return "lib" + name + ".so." + major
}

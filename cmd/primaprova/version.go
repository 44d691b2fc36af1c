package main

import (
	"fmt"
	"runtime"

	"primaprova/solver/ortools"
)

// version and commit are set when a release is built (make release).
var (
	version = "not a release"
	commit  = "unknown"
)

// versionText gives what --version says: the program, what it was built from, for which system, and
// the release of the engines it was written for.
func versionText() string {
	return fmt.Sprintf("primaprova %s\ncommit %s, %s, %s\nengines: HiGHS and CP-SAT of OR-Tools %s\n",
		version, commit, ortools.ThisPlatform, runtime.Version(), ortools.Release)
}

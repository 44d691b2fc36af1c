package ortools

import (
	"fmt"

	"primaprova/solver/sharedlib"
)

const runtimeAdvice = "install it (commonly the package libstdc++6 or libstdc++)"

// cxxRuntime is what every library of OR-Tools needs and no wheel carries.
const cxxRuntime = "libstdc++.so.6"

// openRuntime opens the system's C++ run-time library and leaves it open. The run path of
// the official libhighs is a row of empty entries, which the loader takes for the current
// folder: without this, a libstdc++.so.6 lying where the user happens to stand would be
// loaded and run. What is open already is not looked for again.
func openRuntime() error {
	if _, err := sharedlib.Open(cxxRuntime); err != nil {
		return fmt.Errorf("the C++ run-time library it needs: %w", err)
	}
	return nil
}

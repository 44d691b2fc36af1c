//go:build !linux && !windows

package ortools

const runtimeAdvice = ""

// openRuntime has nothing to do where the system's libraries are named by whole paths.
func openRuntime() error { return nil }

//go:build unix

package main

import (
	"os"
	"runtime"
	"syscall"
)

// residentPeak gives the most memory that a process which has ended has had, in
// megabytes.
func residentPeak(s *os.ProcessState) float64 {
	u, ok := s.SysUsage().(*syscall.Rusage)
	if !ok {
		return 0
	}
	if runtime.GOOS == "darwin" { // bytes there, kilobytes elsewhere
		return float64(u.Maxrss) / 1e6
	}
	return float64(u.Maxrss) * 1024 / 1e6
}

package main

import (
	"os"
	"runtime"
	"syscall"
)

// residentPeak gives the most memory a process that has ended has had, in
// megabytes. On Linux it is never below what this process had when it started
// the other one.
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

//go:build unix

// Package usage tells what a process took of the machine.
package usage

import (
	"os"
	"runtime"
	"syscall"
)

// Peak gives the most memory that a process which has ended has had, in megabytes. On Linux it is
// never below what this process had when it started the other one.
func Peak(s *os.ProcessState) float64 {
	u, ok := s.SysUsage().(*syscall.Rusage)
	if !ok {
		return 0
	}
	if runtime.GOOS == "darwin" { // bytes there, kilobytes elsewhere
		return float64(u.Maxrss) / 1e6
	}
	return float64(u.Maxrss) * 1024 / 1e6
}

package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"primaprova/io/disk"
)

// unbroken does something and turns a panic into trouble: one line, and a report
// that the player may send.
func unbroken(command string, do func() error) (err error) {
	defer func() {
		thrown := recover()
		if thrown == nil {
			return
		}
		t := &trouble{code: exitInternal, lines: []string{"primaprova broke down. That is a fault of its own, not of your season; what is on the disk is whole."}}
		if path, failed := writeReport(report(command, thrown)); failed == nil {
			t.lines[0] += " What broke stands in " + path + ", and nothing of yours; it may be sent to whoever made this program."
		}
		err = t
	}()
	return do()
}

// report says where the program broke, by the names and lines of its own code.
// Nothing of the player's is in it: what was thrown is told in words only where
// the run-time system threw it.
func report(command string, thrown any) []byte {
	var b bytes.Buffer
	what := fmt.Sprintf("%T", thrown)
	if e, ok := thrown.(runtime.Error); ok {
		what = e.Error()
	}
	fmt.Fprintf(&b, "primaprova %s, %s, %s/%s\n", version, runtime.Version(), runtime.GOOS, runtime.GOARCH)
	fmt.Fprintf(&b, "command: %s\nbroke:   %s\n\n", command, what)
	calls := make([]uintptr, 100)
	frames := runtime.CallersFrames(calls[:runtime.Callers(3, calls)])
	for {
		f, more := frames.Next()
		fmt.Fprintf(&b, "%s %s:%d\n", f.Function, filepath.Base(f.File), f.Line)
		if !more {
			return b.Bytes()
		}
	}
}

func writeReport(text []byte) (string, error) {
	dir := os.TempDir()
	if cache, err := os.UserCacheDir(); err == nil && os.MkdirAll(filepath.Join(cache, "primaprova"), 0o700) == nil {
		dir = filepath.Join(cache, "primaprova")
	}
	path := filepath.Join(dir, "broke-"+time.Now().Format("20060102-150405")+".txt")
	return path, disk.Write(path, text, 0o600)
}

// lastReport is report for a process that broke down: of its last words what the
// run-time system says of code alone. What was thrown may hold anything.
func lastReport(command, how string, words []byte) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "primaprova %s, %s, %s/%s\ncommand: %s\nbroke:   %s\n\n", version, runtime.Version(), runtime.GOOS, runtime.GOARCH, command, how)
	for n, line := range strings.Split(string(words), "\n") {
		for _, code := range []string{"fatal error: ", "SIG", "runtime: ", "goroutine ", "\t", "primaprova/", "main.", "runtime.", "created by "} {
			if strings.HasPrefix(line, code) && n < 1000 {
				// A path says where somebody's files lie.
				if at := strings.LastIndexByte(line, '/'); code == "\t" && at > 0 {
					line = "\t" + line[at+1:]
				}
				b.WriteString(line + "\n")
				break
			}
		}
	}
	return b.Bytes()
}

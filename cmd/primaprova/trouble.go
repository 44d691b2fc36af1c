package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"time"

	"primaprova/io/disk"
)

// trouble is an error with the exit code it ends in, and what to do next.
type trouble struct {
	code  int
	err   error
	lines []string // said one by one in place of err
	next  string   // a command, without the program's name
}

func (t *trouble) Error() string {
	if t.err != nil {
		return t.err.Error()
	}
	return strings.Join(t.lines, "\n")
}

func (t *trouble) Unwrap() error { return t.err }

// wrong is trouble with the input.
func wrong(format string, args ...any) *trouble {
	return &trouble{code: exitInput, err: fmt.Errorf(format, args...)}
}

// then adds the command that would help.
func (t *trouble) then(format string, args ...any) *trouble {
	t.next = fmt.Sprintf(format, args...)
	return t
}

// fileTrouble is trouble with a file: the user's where the name or the rights
// are wrong, the machine's otherwise.
func fileTrouble(err error) *trouble {
	for _, cause := range []error{fs.ErrNotExist, fs.ErrExist, fs.ErrPermission, syscall.EISDIR, syscall.ENOTDIR, syscall.EROFS, syscall.ENAMETOOLONG} {
		if errors.Is(err, cause) {
			return &trouble{code: exitInput, err: plainErr(err)}
		}
	}
	return &trouble{code: exitInternal, err: plainErr(err)}
}

// plainErr says what is wrong with a file, not which call found it.
func plainErr(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) && err == error(p) {
		return fmt.Errorf("%s: %w", p.Path, p.Err)
	}
	return err
}

// trouble says what went wrong.
func (v *voice) trouble(t *trouble) {
	lines := t.lines
	if len(lines) == 0 && t.err != nil {
		lines = strings.Split(t.err.Error(), "\n")
	}
	for _, l := range lines {
		v.besides(l)
	}
	if t.next != "" {
		v.next("%s", t.next)
	}
}

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

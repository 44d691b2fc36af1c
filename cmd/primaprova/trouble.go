package main

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"syscall"
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

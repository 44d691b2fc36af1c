package disk

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"
)

// Fault is one thing wrong in a file.
type Fault struct {
	File  string
	Line  int    // from 1; 0 when it concerns the whole file
	Field string // for example sessions[3].minutes
	Value string // as it stands in the file, shortened
	Text  string
	Cause error // what the system said; nil: nothing
}

// String writes file:line: field: value: what is wrong, without what is not known.
func (f Fault) String() string {
	var b strings.Builder
	b.WriteString(f.File)
	if f.Line > 0 {
		fmt.Fprintf(&b, ":%d", f.Line)
	}
	for _, s := range []string{f.Field, f.Value, f.Text} {
		if s != "" {
			b.WriteString(": " + s)
		}
	}
	return b.String()
}

// Faults is everything wrong in a file, in the order of its lines.
type Faults []Fault

// MostFaults is how many are spelt out; a file with more of them is something else.
const MostFaults = 20

// Error writes one fault a line.
func (e Faults) Error() string {
	var lines []string
	for i, f := range e {
		if i == MostFaults {
			lines = append(lines, fmt.Sprintf("%s: and %d faults more", f.File, len(e)-i))
			break
		}
		lines = append(lines, f.String())
	}
	return strings.Join(lines, "\n")
}

// Unwrap gives what the system said, so that fs.ErrNotExist and its like can be asked for.
func (e Faults) Unwrap() (out []error) {
	for _, f := range e {
		if f.Cause != nil {
			out = append(out, f.Cause)
		}
	}
	return out
}

// mostBytes bounds what is read into memory: a plan of forty weeks takes less than one
// megabyte, a year of recording everything less than two.
const mostBytes = 64 << 20

// Read reads a file of ours, what is its kind in a word. The error is what the system said,
// or Faults where the file can't be one.
func Read(path, what string) ([]byte, error) {
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return nil, err
	case info.IsDir():
		return nil, Faults{{File: path, Text: "is a folder, not a " + what}}
	case !info.Mode().IsRegular():
		// Opening a pipe would wait for a writer that may never come.
		return nil, Faults{{File: path, Text: "is not a regular file"}}
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, mostBytes+1))
	if err == nil && len(data) > mostBytes {
		err = Faults{{File: path, Text: fmt.Sprintf("is larger than %d MB, which no %s is", mostBytes>>20, what)}}
	}
	if err != nil {
		return nil, err
	}
	return data, nil
}

// Said tells of an error of the system about a file, without the name of the file and of the
// call that it repeats.
func Said(path, what string, err error) error {
	var faults Faults
	if errors.As(err, &faults) {
		return err
	}
	said := err
	var p *fs.PathError
	var l *os.LinkError
	if errors.As(err, &p) {
		said = p.Err
	} else if errors.As(err, &l) {
		said = l.Err
	}
	return Faults{{File: path, Text: what + said.Error(), Cause: err}}
}

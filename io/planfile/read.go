package planfile

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"reflect"
	"slices"
	"sort"
	"unicode/utf8"

	"primaprova/model"
)

// mostBytes bounds what is read into memory. A plan of forty weeks takes less
// than one megabyte.
const mostBytes = 64 << 20

// Read reads a plan. It is strict: an unknown key, a key given twice, a key
// left out or a value of the wrong kind is a fault. The error is an Error that
// holds all faults, or wraps what the operating system said (fs.ErrNotExist
// where there is no such file). Lists without entries come back nil.
func Read(path string) (*model.Plan, error) {
	data, err := load(path)
	if err != nil {
		return nil, err
	}
	p, err := decode(path, data)
	if err == nil && !slices.ContainsFunc(p.Sessions, func(v model.Session) bool { return v.Number != 0 }) {
		p.Renumber(nil, 0) // it was written before sessions had numbers
	}
	return p, err
}

func load(path string) ([]byte, error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, &fileError{path, "there is no plan yet; make one with: primaprova plan", err}
	case err != nil:
		return nil, &fileError{path, cause(err).Error(), err}
	case info.IsDir():
		return nil, &fileError{path, "is a folder, not a plan file", nil}
	case !info.Mode().IsRegular():
		// Opening a pipe would wait for a writer that may never come.
		return nil, &fileError{path, "is not a regular file", nil}
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, &fileError{path, cause(err).Error(), err}
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, mostBytes+1))
	if err != nil {
		return nil, &fileError{path, cause(err).Error(), err}
	}
	if len(data) > mostBytes {
		return nil, &fileError{path, fmt.Sprintf("is larger than %d MB, which no plan is", mostBytes>>20), nil}
	}
	return data, nil
}

// cause takes the name of the file and of the call off an error of package os,
// since our messages begin with the name the user gave.
func cause(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	var l *os.LinkError
	if errors.As(err, &l) {
		return l.Err
	}
	return err
}

func decode(file string, data []byte) (*model.Plan, error) {
	whole := func(at int, text string) error {
		return Error{{File: file, Line: lineOf(data, at), Text: text}}
	}
	if len(bytes.TrimSpace(data)) == 0 {
		return nil, whole(0, "the file is empty; make the plan anew with: primaprova plan --anew")
	}
	if !utf8.Valid(data) {
		at := 0
		for r, n := rune(0), 0; at < len(data); at += n {
			if r, n = utf8.DecodeRune(data[at:]); r == utf8.RuneError && n == 1 {
				break
			}
		}
		return nil, whole(at, "is not UTF-8 text")
	}
	var tag struct {
		Format any `json:"format"`
	}
	if err := json.Unmarshal(data, &tag); err != nil {
		var syntax *json.SyntaxError
		if errors.As(err, &syntax) {
			return nil, whole(int(syntax.Offset), "is not JSON: "+syntax.Error())
		}
		return nil, whole(0, "is not a plan: an object is wanted")
	}
	d := &walker{file: file, data: data, fields: map[reflect.Type]*fields{}, items: map[string][]int{}}
	// A plan of another version would have a fault on every line. The one that
	// matters is its version.
	if s, ok := tag.Format.(string); ok && s != model.PlanFormat {
		at := bytes.Index(data, []byte(`"format"`))
		d.faultIn(max(at, 0), "format", fmt.Sprintf("%q", s), "this program reads "+model.PlanFormat+
			"; use the version that wrote the file, or make the plan anew with: primaprova plan --anew")
		return nil, d.faults
	}
	p := new(model.Plan)
	d.value(reflect.ValueOf(p).Elem())
	if len(d.faults) == 0 {
		d.judge(p)
	}
	if len(d.faults) > 0 {
		sort.SliceStable(d.faults, func(i, j int) bool { return d.faults[i].Line < d.faults[j].Line })
		return nil, d.faults
	}
	return p, nil
}

func lineOf(data []byte, at int) int {
	return 1 + bytes.Count(data[:min(at, len(data))], []byte{'\n'})
}

// line is lineOf for a walk, whose places come nearly in order: it counts from the
// last one on.
func (w *walker) line(at int) int {
	at = min(at, len(w.data))
	if at < w.counted {
		w.lines -= bytes.Count(w.data[at:w.counted], []byte{'\n'})
	} else {
		w.lines += bytes.Count(w.data[w.counted:at], []byte{'\n'})
	}
	w.counted = at
	return 1 + w.lines
}

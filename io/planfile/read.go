package planfile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"sort"

	"github.com/go-json-experiment/json"

	"primaprova/model"
)

// mostBytes bounds what is read into memory. A plan of forty weeks takes less
// than one megabyte.
const mostBytes = 64 << 20

// Read reads a plan. It is strict: an unknown key, a key given twice or a value of the
// wrong kind is a fault, and so is what no plan can say. The error is an Error that holds
// the first of those or all of these, or wraps what the operating system said (fs.ErrNotExist
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
	d := &document{file: file, data: data}
	if len(bytes.TrimSpace(data)) == 0 {
		return nil, Error{{file, 1, "", "", "the file is empty; make the plan anew with: primaprova plan --anew"}}
	}
	var tag struct {
		Format any `json:"format"`
	}
	if err := json.Unmarshal(data, &tag); err != nil {
		return nil, Error{d.told(err)}
	}
	// A plan of another version may have faults on every line. The one that matters is its version.
	switch tag.Format {
	case model.PlanFormat:
	case nil:
		return nil, Error{d.fault("", "", "is not a plan: format is left out")}
	default:
		return nil, Error{d.fault("/format", "is", "this program reads "+model.PlanFormat+
			"; use the version that wrote the file, or make the plan anew with: primaprova plan --anew")}
	}
	p := new(model.Plan)
	if err := json.Unmarshal(data, p, json.RejectUnknownMembers(true)); err != nil {
		return nil, Error{d.told(err)}
	}
	none(&p.Warned)
	none(&p.Provenance.Wishes)
	none(&p.Sessions)
	none(&p.Unplaced)
	none(&p.Days)
	none(&p.Cancelled)
	none(&p.ChangedDays)
	if faults := d.judge(p); len(faults) > 0 {
		sort.SliceStable(faults, func(i, j int) bool { return faults[i].Line < faults[j].Line })
		return nil, faults
	}
	return p, nil
}

// none makes a list without entries nil.
func none[T any](list *[]T) {
	if len(*list) == 0 {
		*list = nil
	}
}

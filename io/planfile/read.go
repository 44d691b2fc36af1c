package planfile

import (
	"bytes"
	"errors"
	"io/fs"
	"slices"
	"sort"

	"github.com/go-json-experiment/json"

	"primaprova/io/disk"
	"primaprova/model"
)

// Read reads a plan. It is strict: an unknown key, a key given twice or a value of the
// wrong kind is a fault, and so is what no plan can say. The error is an Error that holds
// the first of those or all of these, or wraps what the operating system said (fs.ErrNotExist
// where there is no such file). Lists without entries come back nil.
func Read(path string) (*model.Plan, error) {
	data, err := disk.Read(path, "plan")
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, Error{{File: path, Text: "there is no plan yet; make one with: primaprova plan", Cause: err}}
	case err != nil:
		return nil, disk.Said(path, "", err)
	}
	p, err := decode(path, data)
	if err == nil && !slices.ContainsFunc(p.Sessions, func(v model.Session) bool { return v.Number != 0 }) {
		p.Renumber(nil, 0) // it was written before sessions had numbers
	}
	return p, err
}

func decode(file string, data []byte) (*model.Plan, error) {
	d := &document{file: file, data: data}
	if len(bytes.TrimSpace(data)) == 0 {
		return nil, Error{{File: file, Line: 1, Text: "the file is empty; make the plan anew with: primaprova plan --anew"}}
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

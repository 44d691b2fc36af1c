package planfile

import (
	"bytes"
	"encoding"
	"errors"
	"fmt"
	"io/fs"
	"reflect"
	"slices"
	"sort"
	"strings"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"primaprova/io/disk"
	"primaprova/model"
)

// document is a file's text, in which faults have their lines.
type document struct {
	file   string
	data   []byte
	places map[jsontext.Pointer]int64 // where values stand, behind their keys; made for the first fault
}

// place finds a value by its JSON pointer (RFC 6901): its line, and the value shortened.
func (d *document) place(p jsontext.Pointer) (line int, value string) {
	if d.places == nil {
		d.places = map[jsontext.Pointer]int64{"": 0}
		in := jsontext.NewDecoder(bytes.NewReader(d.data), jsontext.AllowDuplicateNames(true), jsontext.AllowInvalidUTF8(true))
		for _, err := in.ReadToken(); err == nil; _, err = in.ReadToken() {
			if _, known := d.places[in.StackPointer()]; !known {
				d.places[in.StackPointer()] = in.InputOffset()
			}
		}
	}
	at, known := d.places[p]
	if known {
		v, _ := jsontext.NewDecoder(bytes.NewReader(bytes.TrimLeft(d.data[at:], ": \t\r\n"))).ReadValue()
		value = shown(v)
	}
	return d.line(at), value
}

func (d *document) line(at int64) int {
	return 1 + bytes.Count(d.data[:min(int(at), len(d.data))], []byte{'\n'})
}

// shown gives a value on one line, shortened.
func shown(v []byte) string {
	s := strings.Join(strings.Fields(string(v)), " ")
	if r := []rune(s); len(r) > 40 {
		return string(r[:39]) + "…"
	}
	return s
}

// fault is one of the value that a pointer names.
func (d *document) fault(p jsontext.Pointer, value, text string) Fault {
	line, is := d.place(p)
	if value == "is" {
		value = is
	}
	return Fault{File: d.file, Line: line, Field: field(p), Value: value, Text: text}
}

// field writes a pointer as sessions[3].minutes.
func field(p jsontext.Pointer) string {
	var b strings.Builder
	for step := range p.Tokens() {
		switch {
		case strings.Trim(step, "0123456789") == "" && step != "":
			fmt.Fprintf(&b, "[%s]", step)
		case b.Len() > 0:
			b.WriteString("." + step)
		default:
			b.WriteString(step)
		}
	}
	return b.String()
}

// told says what an error of the library is about.
func (d *document) told(err error) Fault {
	var syntax *jsontext.SyntacticError
	var kind *json.SemanticError
	switch {
	case errors.Is(err, jsontext.ErrDuplicateName) && errors.As(err, &syntax):
		return Fault{File: d.file, Line: d.line(syntax.ByteOffset), Field: field(syntax.JSONPointer), Text: "is given twice"}
	case errors.As(err, &syntax):
		return Fault{File: d.file, Line: d.line(syntax.ByteOffset), Text: "is not JSON: " + syntax.Err.Error()}
	case errors.Is(err, json.ErrUnknownName) && errors.As(err, &kind):
		return d.fault(kind.JSONPointer, "", "unknown key")
	case errors.As(err, &kind):
		if _, text := reflect.New(kind.GoType).Interface().(encoding.TextUnmarshaler); text && kind.JSONKind == '"' {
			return d.fault(kind.JSONPointer, "", kind.Err.Error())
		}
		return d.fault(kind.JSONPointer, "is", wanted(kind.GoType)+" is wanted")
	}
	return Fault{File: d.file, Text: err.Error()}
}

func wanted(t reflect.Type) string {
	switch t {
	case reflect.TypeFor[model.Date]():
		return `a date like "2027-01-31"`
	case reflect.TypeFor[model.Clock]():
		return `a time like "09:30"`
	}
	switch t.Kind() {
	case reflect.Struct:
		return "an object"
	case reflect.Slice:
		return "a list"
	case reflect.String:
		return "a text"
	case reflect.Bool:
		return "true or false"
	case reflect.Float64:
		return "a number"
	}
	return "a whole number"
}

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

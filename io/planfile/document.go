package planfile

import (
	"bytes"
	"encoding"
	"errors"
	"fmt"
	"reflect"
	"strings"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

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

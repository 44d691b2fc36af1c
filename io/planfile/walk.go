package planfile

import (
	"encoding"
	"encoding/json"
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"primaprova/model"
)

// walker fills a value from JSON and notes every fault with its place, which
// package encoding/json does not: it stops at the first and knows no line. The
// data must be valid JSON, so that the walk itself cannot fail.
type walker struct {
	file   string
	data   []byte
	at     int
	path   []step
	fields map[reflect.Type]*fields
	items  map[string][]int // list -> where each of its entries begins
	faults Error

	counted, lines int // up to where lines are counted, and how many end before it
}

// step is one step of the way to a value: a key, or a place in a list.
type step struct {
	key   string
	index int
}

// fields is how a struct looks in JSON.
type fields struct {
	index    map[string]int
	name     []string
	required []bool // neither marked omitempty nor kept out of the file
}

func (w *walker) fieldsOf(t reflect.Type) *fields {
	if f := w.fields[t]; f != nil {
		return f
	}
	f := &fields{index: map[string]int{}}
	for i := range t.NumField() {
		name, options, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
		kept := name != "-"
		if kept {
			f.index[name] = i
		}
		f.name = append(f.name, name)
		f.required = append(f.required, kept && options != "omitempty")
	}
	w.fields[t] = f
	return f
}

// fault notes a fault of the value at hand.
func (w *walker) fault(at int, value, text string) {
	w.faultIn(at, w.field(), value, text)
}

func (w *walker) faultIn(at int, field, value, text string) {
	w.faults = append(w.faults, Fault{w.file, w.line(at), field, value, text})
}

// field writes the way to the value at hand. The walk keeps steps and not the
// text, because a sound plan never needs it.
func (w *walker) field() string {
	var b strings.Builder
	for i, s := range w.path {
		switch {
		case s.key == "":
			fmt.Fprintf(&b, "[%d]", s.index)
		case i > 0:
			b.WriteString("." + s.key)
		default:
			b.WriteString(s.key)
		}
	}
	return b.String()
}

// value reads the next JSON value into v.
func (w *walker) value(v reflect.Value) {
	w.space()
	start := w.at
	c := w.data[start]
	if c == 'n' {
		w.at += len("null")
		if v.Kind() != reflect.Pointer {
			w.fault(start, "null", wanted(v.Type())+" is wanted")
		}
		return
	}
	if v.Kind() == reflect.Pointer {
		v.Set(reflect.New(v.Type().Elem()))
		w.value(v.Elem())
		return
	}
	text, isText := v.Addr().Interface().(encoding.TextUnmarshaler)
	kind := v.Kind()
	switch {
	case c == '{' && kind == reflect.Struct:
		w.object(v)
		return
	case c == '[' && kind == reflect.Slice:
		w.list(v)
		return
	case c == '"' && isText:
		if err := text.UnmarshalText([]byte(w.text())); err != nil {
			w.fault(start, "", err.Error())
			return
		}
	case c == '"' && kind == reflect.String:
		v.SetString(w.text())
	case (c == 't' || c == 'f') && kind == reflect.Bool:
		v.SetBool(c == 't')
		w.skip()
	case (c == '-' || c >= '0' && c <= '9') && !isText && v.CanInt():
		w.skip()
		n, err := strconv.ParseInt(string(w.data[start:w.at]), 10, 64)
		if err != nil {
			w.fault(start, w.shown(start), "a whole number is wanted")
			return
		}
		v.SetInt(n)
	case (c == '-' || c >= '0' && c <= '9') && v.CanFloat():
		w.skip()
		x, err := strconv.ParseFloat(string(w.data[start:w.at]), 64)
		if err != nil {
			w.fault(start, w.shown(start), "is out of range")
			return
		}
		v.SetFloat(x)
	default:
		w.skip()
		w.fault(start, w.shown(start), wanted(v.Type())+" is wanted")
		return
	}
	if text := absurd(v.Interface()); text != "" {
		w.fault(start, w.shown(start), text)
	}
}

// absurd says what is wrong with a single value that has the right kind.
func absurd(v any) string {
	switch v := v.(type) {
	case model.Date:
		if v.IsZero() {
			return "a date is wanted"
		}
	case model.Minutes:
		if v < 0 || v > 24*60 {
			return "0 to 1440 minutes are wanted"
		}
	case model.Stage:
		switch v {
		case model.ListeningStage, model.RecordingsStage, model.WarmUpStage, model.ReadStage, model.PassageStage:
		default:
			return "is no stage of the work"
		}
	case model.PlanStatus:
		switch v {
		case model.Proven, model.NotProven, model.CutShort, model.FirstPlan:
		default:
			return "is no status of a plan"
		}
	}
	return ""
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

func (w *walker) object(v reflect.Value) {
	f := w.fieldsOf(v.Type())
	start, depth := w.at, len(w.path)
	seen := make([]bool, len(f.name))
	for w.next('}') {
		at := w.at
		i, key, known := w.key(f)
		w.space()
		w.at++ // the colon
		w.path = append(w.path[:depth], step{key: key})
		switch {
		case !known:
			w.fault(at, "", "unknown key")
			w.space()
			w.skip()
			continue
		case seen[i]:
			w.fault(at, "", "is given twice")
		}
		seen[i] = true
		w.value(v.Field(i))
	}
	for i, ok := range seen {
		if !ok && f.required[i] {
			w.path = append(w.path[:depth], step{key: f.name[i]})
			w.fault(start, "", "is left out")
		}
	}
	w.path = w.path[:depth]
}

// key reads a key and gives its field.
func (w *walker) key(f *fields) (i int, key string, known bool) {
	start := w.at
	w.skip()
	if i, known = f.index[string(w.data[start+1:w.at-1])]; known {
		return i, f.name[i], true
	}
	w.at = start
	key = w.text()
	i, known = f.index[key] // a known key may be written with escapes
	if key == "" {
		key = `""`
	}
	return i, key, known
}

func (w *walker) list(v reflect.Value) {
	depth := len(w.path)
	name := w.field()
	var offsets []int
	for w.next(']') {
		offsets = append(offsets, w.at)
		w.path = append(w.path[:depth], step{index: v.Len()})
		v.Grow(1)
		v.SetLen(v.Len() + 1)
		w.value(v.Index(v.Len() - 1))
	}
	w.items[name] = offsets
	w.path = w.path[:depth]
}

// next steps over an opening bracket or a comma to the next entry, or over the
// closing bracket.
func (w *walker) next(closing byte) bool {
	w.space()
	w.at++ // '{', '[', ',' or, after the last entry, the closing bracket
	if w.data[w.at-1] == closing {
		return false
	}
	w.space()
	if w.data[w.at] == closing { // only right after the opening bracket
		w.at++
		return false
	}
	return true
}

func (w *walker) space() {
	for w.at < len(w.data) && strings.IndexByte(" \t\r\n", w.data[w.at]) >= 0 {
		w.at++
	}
}

// text reads a string.
func (w *walker) text() string {
	start := w.at
	w.skip()
	raw := w.data[start:w.at]
	if inner := string(raw[1 : len(raw)-1]); strings.IndexByte(inner, '\\') < 0 {
		return inner
	}
	var s string
	if err := json.Unmarshal(raw, &s); err != nil {
		panic(err) // the data is valid JSON
	}
	return s
}

// skip steps over a whole value.
func (w *walker) skip() {
	depth := 0
	for {
		switch c := w.data[w.at]; {
		case c == '"':
			for w.at++; w.data[w.at] != '"'; w.at++ {
				if w.data[w.at] == '\\' {
					w.at++
				}
			}
			w.at++
		case c == '{' || c == '[':
			depth++
			w.at++
		case c == '}' || c == ']':
			depth--
			w.at++
		case depth > 0 && strings.IndexByte(",: \t\r\n", c) >= 0:
			w.at++
			continue
		default:
			for w.at < len(w.data) && strings.IndexByte(",:]} \t\r\n", w.data[w.at]) < 0 {
				w.at++
			}
		}
		if depth == 0 {
			return
		}
	}
}

// shown gives the value that begins at an offset and was just read, shortened.
func (w *walker) shown(start int) string {
	s := strings.Join(strings.Fields(string(w.data[start:w.at])), " ")
	if r := []rune(s); len(r) > 40 {
		return string(r[:39]) + "…"
	}
	return s
}

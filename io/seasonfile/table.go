package seasonfile

import (
	"slices"
	"strings"
)

// table is a mapping whose keys are known beforehand.
type table struct {
	r      *reader
	at     field
	fields map[string]field // nil where it is no mapping
	good   bool             // everything that is there could be read
}

// key is a key of a table, and what reads its value.
type key struct {
	name   string
	needed bool
	read   func(field) bool
}

// opt is a key that may be there, must is one that has to; with calls a function.
func opt[T any](name string, to *T, how func(field, *T) bool) key {
	return key{name, false, func(f field) bool { return how(f, to) }}
}

func must[T any](name string, to *T, how func(field, *T) bool) key {
	return key{name, true, func(f field) bool { return how(f, to) }}
}

func with(name string, how func(field)) key {
	return key{name, false, func(f field) bool { how(f); return true }}
}

// table reads a mapping, key by key in this order.
func (r *reader) table(f field, keys ...key) table {
	var names []string
	for _, k := range keys {
		names = append(names, k.name)
	}
	t := r.known(f, names...)
	if t.fields != nil {
		t.read(keys...)
	}
	return t
}

// known takes a mapping's values and reports the keys that it does not know.
func (r *reader) known(f field, known ...string) table {
	t := table{r: r, at: f}
	list, ok := r.entries(f)
	if !ok {
		return t
	}
	t.good, t.fields = true, map[string]field{}
	for _, e := range list {
		name := e.key.node.Value
		if !slices.Contains(known, name) {
			r.unknown(field{path: e.key.path, place: e.key.place}, name, known)
			continue
		}
		t.fields[name] = e.value
	}
	return t
}

// unknown reports a key that means nothing here.
func (r *reader) unknown(f field, name string, known []string) {
	advice := "one of " + strings.Join(known, ", ")
	if near := Nearest(strings.ToLower(strings.NewReplacer("-", "_", " ", "_").Replace(name)), known); near != "" {
		advice = near
	}
	r.wrong(f, advice, "this key is not known")
}

// read reports the keys that are missing, and reads those that are there.
func (t *table) read(keys ...key) {
	for _, k := range keys {
		if _, ok := t.fields[k.name]; !ok && k.needed {
			at := t.at
			at.node, at.value = nil, ""
			at.path = join(at.path, k.name)
			t.r.wrong(at, "", "is missing")
		}
	}
	for _, k := range keys {
		if f, ok := t.fields[k.name]; ok && k.read != nil {
			t.good = k.read(f) && t.good
		}
	}
}

// by is value for a key of a table, and listOf is list for one.
func by[T any](r *reader, parse func(string) (T, error)) func(field, *T) bool {
	return func(f field, to *T) bool { return value(r, f, to, parse) }
}

func listOf[T any](r *reader, how func(field, *T) bool) func(field, *[]T) bool {
	return func(f field, to *[]T) bool { return list(r, f, to, how) }
}

// oneOf reads one of some words.
func oneOf(known []string) func(string) (string, error) {
	return func(s string) (string, error) {
		if slices.Contains(known, s) {
			return s, nil
		}
		return "", advised{"is not one of " + strings.Join(known, ", "), Nearest(s, known)}
	}
}

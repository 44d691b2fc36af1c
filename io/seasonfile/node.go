package seasonfile

import (
	"fmt"

	"go.yaml.in/yaml/v3"
)

// reader walks one season file. Faults are collected, not returned: a value
// that can't be read leaves what was there before (the default) in place.
type reader struct {
	file    string
	dir     string
	text    *text
	root    *yaml.Node // the file's table; nil until it is parsed
	places  map[string]Place
	faults  []Fault
	spoiled map[string]bool // paths of faults, see validate
	above   map[string]bool // what holds them
	others  map[string]Named

	sources   Sources
	calendars map[string][]byte // that could be used as they are, by name
	standIns  []Fault
}

// field is a value with its path and place: a YAML node, or a cell of a table
// when node is nil.
type field struct {
	path  string
	node  *yaml.Node
	value string
	place Place
}

// wrong reports a fault of a field.
func (r *reader) wrong(f field, advice, form string, args ...any) {
	if f.path != "" {
		r.spoil(f.path)
	}
	r.faults = append(r.faults, Fault{File: f.place.File, Line: f.place.Line, Column: f.place.Column, Path: f.path,
		Value: discreet(f.written()), Text: fmt.Sprintf(form, args...), Advice: advice})
}

// written gives a scalar as the player wrote it, "" for anything else.
func (f field) written() string {
	if f.node == nil {
		return f.value
	}
	if f.node.Kind == yaml.ScalarNode {
		return f.node.Value
	}
	return ""
}

// plain refuses, anywhere in the file, what makes a value stand in another
// place than where it is read: anchors, aliases, merge keys and tags.
func (r *reader) plain(n *yaml.Node) {
	at := field{place: Place{File: r.file, Line: n.Line, Column: n.Column}}
	switch {
	case n.Kind == yaml.AliasNode:
		at.value = "*" + n.Value
		r.wrong(at, "write the value out", "aliases are not read here")
		return
	case n.Anchor != "":
		at.value = "&" + n.Anchor
		r.wrong(at, "take the anchor out", "anchors are not read here")
	case n.Style&yaml.TaggedStyle != 0:
		at.value = n.Tag
		r.wrong(at, "take the tag out", "tags are not read here")
	}
	for i, c := range n.Content {
		if n.Kind == yaml.MappingNode && i%2 == 0 && c.Tag == "!!merge" {
			r.wrong(field{place: Place{File: r.file, Line: c.Line, Column: c.Column}, value: c.Value},
				"write the values out", "merge keys are not read here")
			continue
		}
		r.plain(c)
	}
}

// kind names what a field holds, for messages.
func (f field) kind() string {
	if f.node == nil {
		return "a single value"
	}
	switch f.node.Kind {
	case yaml.MappingNode:
		return "a table of keys"
	case yaml.SequenceNode:
		return "a list"
	}
	if f.null() {
		return "nothing"
	}
	return "a single value"
}

// null tells whether nothing is written after the key.
func (f field) null() bool {
	if f.node == nil {
		return f.value == ""
	}
	return f.node.Kind == yaml.ScalarNode && f.node.Tag == "!!null"
}

// alias tells whether the field was already reported by plain.
func (f field) alias() bool { return f.node != nil && f.node.Kind == yaml.AliasNode }

// entry is one key of a table with its value.
type entry struct {
	key   field
	value field
}

// entries gives a table's keys and values in order. Keys that come twice are
// faults; the first one counts.
func (r *reader) entries(f field) ([]entry, bool) {
	if f.node == nil || f.node.Kind != yaml.MappingNode {
		if !f.alias() {
			r.wrong(f, "", "expected a table of keys, found %s", f.kind())
		}
		return nil, false
	}
	var out []entry
	seen := map[string]int{}
	for i := 0; i+1 < len(f.node.Content); i += 2 {
		k, v := f.node.Content[i], f.node.Content[i+1]
		at := r.text.place(r.file, k)
		if k.Kind != yaml.ScalarNode {
			if k.Kind != yaml.AliasNode {
				r.wrong(field{path: f.path, place: at}, "", "a key must be a single word")
			}
			continue
		}
		if k.Tag == "!!merge" {
			continue // reported by plain
		}
		key := field{path: join(f.path, shorten(k.Value)), node: k, place: at}
		if line, twice := seen[k.Value]; twice {
			r.wrong(field{path: key.path, place: at}, "keep one of the two", "is given twice, first in line %d", line)
			continue
		}
		seen[k.Value] = k.Line
		value := field{path: key.path, node: v, place: r.text.place(r.file, v)}
		if v.Kind != yaml.ScalarNode || value.null() {
			// What holds other things, and what holds nothing, is found by its key.
			value.place = at
			value.place.End = -1
		}
		r.places[key.path] = value.place
		out = append(out, entry{key: key, value: value})
	}
	return out, true
}

func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

// items gives a list's values.
func (r *reader) items(f field) ([]field, bool) {
	if f.node == nil || f.node.Kind != yaml.SequenceNode {
		if !f.alias() {
			r.wrong(f, "", "expected a list, found %s", f.kind())
		}
		return nil, false
	}
	out := make([]field, len(f.node.Content))
	for i, n := range f.node.Content {
		out[i] = field{path: fmt.Sprintf("%s[%d]", f.path, i), node: n, place: r.text.place(r.file, n)}
		r.places[out[i].path] = out[i].place
	}
	return out, true
}

package seasonfile

import (
	"bytes"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"primaprova/model"
)

// A season goes into the next one by its own lines: what it says of limits, hours,
// other calendars, habits and other playing is copied with its comments. What it says
// of dates that lie outside the next season is left out, and names of files are
// those from where the next season lies.

// handedOn are the keys that go over, in the order of a new file.
var handedOn = []string{"limits", "hours", "busy", "other_playing", "habits"}

// over gives the lines that go over into a season of some days, whose file will be
// at a path.
func (f *File) over(path string, days model.Range) (string, error) {
	e := f.editor()
	if e.root.Style&yaml.FlowStyle != 0 {
		return "", f.layout(Place{Line: e.root.Line, Column: e.root.Column}, "")
	}
	var out strings.Builder
	for _, key := range handedOn {
		if k := e.key(e.root, key); k >= 0 {
			from, to := e.remarks(e.root.Content[k]), len(f.Source)
			if k+2 < len(e.root.Content) {
				to = e.remarks(e.root.Content[k+2])
			}
			out.WriteString(strings.TrimRight(string(f.Source[from:to]), " \t\r\n") + "\n\n")
		}
	}
	text := strings.TrimSpace(strings.ReplaceAll(out.String(), "\r\n", "\n"))
	for { // each turn takes something away
		next, err := rewritten(text, func(e *editor) []change { return e.outside(e.root, days) })
		if err != nil {
			return "", err
		}
		if len(next) >= len(text) {
			break
		}
		text = next
	}
	return rewritten(text, func(e *editor) []change {
		return e.moved(e.get(e.root, "busy"), filepath.Dir(f.Path), filepath.Dir(path))
	})
}

// remarks gives where a key begins with the comments that stand right above it.
func (e *editor) remarks(key *yaml.Node) int {
	at := e.lineStart(e.start(key))
	for at > 0 {
		line := e.lineStart(at - 1)
		if !bytes.HasPrefix(bytes.TrimLeft(e.t.bytes[line:at], " "), []byte("#")) {
			break
		}
		at = line
	}
	return at
}

// rewritten makes the changes that are found in a text.
func rewritten(text string, find func(e *editor) []change) (string, error) {
	var doc yaml.Node
	if err := yaml.Unmarshal([]byte(text), &doc); err != nil || len(doc.Content) == 0 {
		return text, err
	}
	changes := find(&editor{t: newText([]byte(text)), root: doc.Content[0]})
	slices.SortFunc(changes, func(a, b change) int { return b.from - a.from })
	for _, c := range changes {
		text = text[:c.from] + c.text + text[c.to:]
	}
	return text, nil
}

// outside finds what is said of dates outside some days: a key, or an entry of a list.
func (e *editor) outside(n *yaml.Node, days model.Range) []change {
	gone := func(n *yaml.Node) bool {
		r, err := parseRange(n.Value)
		return n.Kind == yaml.ScalarNode && err == nil && (r.To < days.From || r.From > days.To)
	}
	for k := 0; n.Kind == yaml.MappingNode && k+1 < len(n.Content); k += 2 {
		key, v := n.Content[k], n.Content[k+1]
		if gone(key) {
			return []change{e.removeKey(n, k)}
		}
		for i := 0; v.Kind == yaml.SequenceNode && i < len(v.Content); i++ {
			item := v.Content[i]
			if on := e.get(item, "on"); item.Kind == yaml.MappingNode && on != nil && !slices.ContainsFunc(on.Content, func(n *yaml.Node) bool { return !gone(n) }) {
				return e.remove(n, key.Value, i)
			}
			if gone(item) {
				return e.remove(n, key.Value, i)
			}
		}
		if out := e.outside(v, days); out != nil {
			return out
		}
	}
	for i := 0; n.Kind == yaml.SequenceNode && i < len(n.Content); i++ {
		if out := e.outside(n.Content[i], days); out != nil {
			return out
		}
	}
	return nil
}

// removeKey takes a key and its value out of a table.
func (e *editor) removeKey(table *yaml.Node, k int) change {
	from, to := e.start(table.Content[k]), e.end(table.Content[k+1])
	switch {
	case table.Style&yaml.FlowStyle == 0:
		return change{e.lineStart(from), e.nextLine(to), ""}
	case k+2 < len(table.Content):
		return change{from, e.start(table.Content[k+2]), ""}
	case k > 0:
		return change{e.end(table.Content[k-1]), to, ""}
	}
	return change{from, to, ""}
}

// moved finds the names of calendars that lead elsewhere from another folder.
func (e *editor) moved(busy *yaml.Node, was, is string) []change {
	if busy == nil || filepath.Clean(was) == filepath.Clean(is) {
		return nil
	}
	var out []change
	for _, item := range busy.Content {
		if file := e.get(item, "file"); item.Kind == yaml.MappingNode && file != nil {
			item = file
		}
		to, err := filepath.Rel(is, filepath.Join(was, item.Value))
		if item.Kind != yaml.ScalarNode || isAddress(item.Value) || filepath.IsAbs(item.Value) || err != nil {
			continue
		}
		out = append(out, change{e.start(item), e.end(item), plainText(filepath.ToSlash(to))})
	}
	return out
}

// learntText writes what the record of earlier seasons taught, as the key learnt.
func learntText(all model.Learnt, works []model.Tally) string {
	out := ""
	line := func(kind string, t model.Tally) {
		out += "\n  - " + braces([]pair{{"work", kind}, {"sessions", fmt.Sprint(t.Sessions)}, {"estimated", t.Estimated.String()}, {"took", t.Took.String()}})
	}
	for _, e := range model.Efforts() {
		if t := all[e]; t.Sessions > 0 {
			line(e.String(), t)
		}
	}
	for _, t := range works {
		line(string(model.WholeWork), t)
	}
	if out != "" {
		out = "learnt:    # of sessions recorded: what they were estimated at, and took" + out
	}
	return out
}

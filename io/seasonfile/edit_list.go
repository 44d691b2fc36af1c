package seasonfile

import (
	"strings"

	"go.yaml.in/yaml/v3"
)

// entryText is an entry of a list, as it is written.
type entryText struct {
	flow  string                              // in braces, on one line
	block func(indent, newline string) string // a key a line; the first one stands where the entry begins. Nil: as flow
	long  bool                                // better in lines of its own
}

// written writes an entry where it is better so, or wanted, in lines of its own.
func (t entryText) written(inLines bool, indent, newline string) string {
	if t.block != nil && (t.long || inLines) {
		return t.block(indent, newline)
	}
	return t.flow
}

// length is the number of entries of a list; of none, 0.
func length(list *yaml.Node) int {
	if list == nil {
		return 0
	}
	return len(list.Content)
}

// add puts an entry at the end of a list; where there is no list it is begun
// at the end of the table that ought to have it.
func (e *editor) add(owner *yaml.Node, key string, list *yaml.Node, item entryText) []change {
	switch {
	case list == nil && owner.Style&yaml.FlowStyle != 0:
		at := e.end(owner.Content[len(owner.Content)-1])
		return []change{{at, at, ", " + key + ": [" + item.flow + "]"}}
	case list == nil:
		indent := strings.Repeat(" ", owner.Column-1)
		return e.after(owner, owner.Column, func(newline string) string {
			return indent + key + ":" + newline + indent + "  - " + item.written(false, indent+"    ", newline)
		})
	case list.Kind != yaml.SequenceNode:
		return nil
	case list.Style&yaml.FlowStyle != 0:
		return e.addInBrackets(list, item)
	}
	indent := strings.Repeat(" ", list.Column-1)
	last := list.Content[len(list.Content)-1]
	return e.after(list, list.Column, func(newline string) string {
		return indent + "- " + item.written(last.Style&yaml.FlowStyle == 0, indent+"  ", newline)
	})
}

// after puts whole lines after a node in block style that begins in a column,
// behind the comments that are set in deeper and so belong to its last entry.
func (e *editor) after(n *yaml.Node, column int, lines func(newline string) string) []change {
	last := e.end(n)
	newline := e.lineBreak(last)
	at := e.nextLine(last)
	if at == last { // the byte before it ends the file, or its line
		at = len(e.t.bytes)
	}
	for at < len(e.t.bytes) {
		line := string(e.t.bytes[at:e.lineEnd(at)])
		text := strings.TrimLeft(line, " ")
		if !strings.HasPrefix(text, "#") || len(line)-len(text) < column {
			break
		}
		at = e.nextLine(at)
	}
	if at == len(e.t.bytes) && e.lineEnd(at-1) == at {
		return []change{{at, at, newline + lines(newline)}} // the last line has no end
	}
	return []change{{at, at, lines(newline) + newline}}
}

// addInBrackets puts an entry at the end of a list in flow style: behind the
// last one on its line, or on a line of its own where the list goes over lines.
func (e *editor) addInBrackets(list *yaml.Node, item entryText) []change {
	shut := e.end(list) - 1
	if len(list.Content) == 0 {
		return []change{{shut, shut, item.flow}}
	}
	n := list.Content[len(list.Content)-1]
	last := e.end(n)
	comma := e.comma(last, shut)
	behind := max(last, comma+1)
	if e.t.line(last) == e.t.line(shut) {
		if comma < 0 {
			return []change{{last, last, ", " + item.flow}}
		}
		return []change{{behind, behind, " " + item.flow}}
	}
	first := e.start(n)
	line := string(e.t.bytes[e.lineStart(first):first])
	indent := line[:len(line)-len(strings.TrimLeft(line, " "))]
	if e.t.line(e.start(list)) == e.t.line(first) {
		indent += "  "
	}
	at := e.lineEnd(behind)
	add := change{at, at, e.lineBreak(behind) + indent + item.flow}
	if e.t.line(at) == e.t.line(shut) {
		add = change{behind, behind, " " + item.flow}
	}
	if comma < 0 {
		if at == last {
			add.text = "," + add.text
			return []change{add}
		}
		return []change{{last, last, ","}, add}
	}
	return []change{add}
}

// replace puts an entry in the place of another.
func (e *editor) replace(list *yaml.Node, i int, item entryText) []change {
	n := list.Content[i]
	from, to := e.start(n), e.end(n)
	if list.Style&yaml.FlowStyle != 0 {
		return []change{{from, to, item.flow}}
	}
	if n.Style&yaml.FlowStyle == 0 {
		to = e.lineEnd(to) // its last line's comment is about the old one too
	}
	return []change{{from, to, item.written(n.Style&yaml.FlowStyle == 0, strings.Repeat(" ", n.Column-1), e.lineBreak(from))}}
}

// remove takes an entry out of a list.
func (e *editor) remove(owner *yaml.Node, key string, i int) []change {
	k := e.key(owner, key)
	name, list := owner.Content[k], owner.Content[k+1]
	if list.Style&yaml.FlowStyle != 0 {
		return e.removeInBrackets(list, i)
	}
	from, to := e.lineStart(e.start(list.Content[i])), e.nextLine(e.end(list.Content[i]))
	if len(list.Content) > 1 {
		return []change{{from, to, ""}}
	}
	colon := e.end(name)
	for colon < from && e.t.bytes[colon] != ':' {
		colon++
	}
	if colon+1 <= from && e.blanks(colon+1, from) && e.blanks(e.lineStart(e.start(name)), e.start(name)) {
		return []change{{e.lineStart(e.start(name)), to, ""}}
	}
	return []change{{colon + 1, colon + 1, " []"}, {from, to, ""}}
}

func (e *editor) removeInBrackets(list *yaml.Node, i int) []change {
	n := list.Content[i]
	from, to := e.start(n), e.end(n)
	shut := e.end(list) - 1
	next := shut
	if i+1 < len(list.Content) {
		next = e.start(list.Content[i+1])
	}
	oneLine := func(a, b int) bool { return e.t.line(a) == e.t.line(b) }
	if comma := e.comma(to, next); comma >= 0 {
		to = comma + 1
		if next < shut && oneLine(from, next) {
			to = next
		}
	} else if i > 0 {
		before := e.end(list.Content[i-1])
		if oneLine(before, from) {
			from = before
		} else {
			comma := e.comma(before, from)
			return append([]change{{comma, comma + 1, ""}}, e.wholeLine(from, to))
		}
	}
	return []change{e.wholeLine(from, to)}
}

// wholeLine takes some bytes away, and their line with them when nothing else
// is on it.
func (e *editor) wholeLine(from, to int) change {
	start, end := e.lineStart(from), e.lineEnd(to)
	if e.blanks(start, from) && e.blanks(to, end) {
		return change{start, e.nextLine(to), ""}
	}
	return change{from, to, ""}
}

package seasonfile

import (
	"bytes"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"

	"primaprova/io/disk"
)

// editor is a season file's tree with its bytes.
type editor struct {
	t    *text
	root *yaml.Node
}

func (f *File) editor() *editor { return &editor{t: newText(f.Source), root: f.root} }

// get gives the value of a key or the item of a list, nil where there is none.
func (e *editor) get(n *yaml.Node, at any) *yaml.Node {
	if n == nil {
		return nil
	}
	if i, ok := at.(int); ok {
		if i < len(n.Content) {
			return n.Content[i]
		}
		return nil
	}
	if k := e.key(n, at.(string)); k >= 0 {
		return n.Content[k+1]
	}
	return nil
}

// key gives the index of a key in a table's Content, -1 where there is none.
func (e *editor) key(n *yaml.Node, name string) int {
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == name {
			return i
		}
	}
	return -1
}

// Replace writes the file that an edit changes in the place of the one that was
// read, the season file or a table that it names, wholly (see disk.Write). When
// the file is no longer what was read, since an editor saved it meanwhile,
// nothing is written. Who calls it holds the season: disk.Hold.
func (f *File) Replace(read *File) error {
	named := f.Changed(read)
	if named == "" {
		return nil
	}
	was, is := read.Source, f.Source
	for name, n := range f.Others {
		if n.Path == named && named != f.Path {
			was, is = read.Others[name].Source, n.Source
		}
	}
	now, err := load(named)
	if err != nil {
		return err
	}
	if !bytes.Equal(now, was) {
		return Errors{{File: named, Text: "was changed by somebody else meanwhile; nothing was written", Advice: "run the command again"}}
	}
	return disk.Write(named, is, 0o644)
}

// The parser says where a node begins. Where it ends is found from its
// contents: the value of a scalar tells how many characters other than blanks
// it takes, the end of a table or list is the end of its last entry.

func (e *editor) start(n *yaml.Node) int { return e.t.offset(n.Line, n.Column) }

// end gives the first byte after a node.
func (e *editor) end(n *yaml.Node) int {
	at := e.start(n)
	if n.Kind == yaml.ScalarNode {
		return e.endOfScalar(n, at)
	}
	flow := n.Style&yaml.FlowStyle != 0
	if len(n.Content) > 0 {
		at = e.end(n.Content[len(n.Content)-1])
	} else if flow {
		at++
	}
	if !flow {
		return at
	}
	for at < len(e.t.bytes) {
		switch e.t.bytes[at] {
		case ']', '}':
			return at + 1
		case '#':
			at = e.lineEnd(at)
		default:
			at++
		}
	}
	return at
}

func (e *editor) endOfScalar(n *yaml.Node, at int) int {
	b := e.t.bytes
	switch {
	case n.Style&yaml.DoubleQuotedStyle != 0:
		for at++; at < len(b) && b[at] != '"'; at++ {
			if b[at] == '\\' {
				at++
			}
		}
		return min(at+1, len(b))
	case n.Style&yaml.SingleQuotedStyle != 0:
		for at++; at < len(b); at++ {
			if b[at] != '\'' {
				continue
			}
			if at+1 == len(b) || b[at+1] != '\'' {
				break
			}
			at++
		}
		return min(at+1, len(b))
	case n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0:
		at = e.lineEnd(at)
	}
	for _, r := range n.Value {
		if blank(r) {
			continue
		}
		for at < len(b) {
			c, size := utf8.DecodeRune(b[at:])
			at += size
			if !blank(c) {
				break
			}
		}
	}
	return at
}

// blank tells what a value may have more or fewer of than the file.
func blank(r rune) bool {
	return r == ' ' || r == '\t' || r == '\n' || r == '\r' || r == '\u0085' || r == '\u2028' || r == '\u2029'
}

// lineStart gives the first byte of the line that holds a byte.
func (e *editor) lineStart(at int) int { return e.t.lines[e.t.line(at)-1] }

// nextLine gives the first byte of the line after, or the end of the file.
func (e *editor) nextLine(at int) int {
	if n := e.t.line(at); n < len(e.t.lines) {
		return e.t.lines[n]
	}
	return len(e.t.bytes)
}

// lineEnd gives the line break that ends the line of a byte, or the end of the
// file.
func (e *editor) lineEnd(at int) int {
	end := e.nextLine(at)
	r, size := utf8.DecodeLastRune(e.t.bytes[at:end])
	switch r {
	case '\n':
		end -= size
		if end > at && e.t.bytes[end-1] == '\r' {
			end--
		}
	case '\r', '\u0085', '\u2028', '\u2029':
		end -= size
	}
	return end
}

// lineBreak gives the line break that the file uses here: that of the line, or
// of the first one in the file.
func (e *editor) lineBreak(at int) string {
	if s := string(e.t.bytes[e.lineEnd(at):e.nextLine(at)]); s != "" {
		return s
	}
	if s := string(e.t.bytes[e.lineEnd(0):e.nextLine(0)]); s != "" {
		return s
	}
	return "\n"
}

// blanks tells whether there is nothing but blanks in some bytes.
func (e *editor) blanks(from, to int) bool {
	for _, r := range string(e.t.bytes[from:to]) {
		if !blank(r) {
			return false
		}
	}
	return true
}

// comma finds the comma between two entries or after the last one, -1 when
// there is none. Commas in comments do not count.
func (e *editor) comma(from, to int) int {
	for at := from; at < to; at++ {
		switch e.t.bytes[at] {
		case ',':
			return at
		case '#':
			at = e.lineEnd(at)
		}
	}
	return -1
}

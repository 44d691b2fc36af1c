package seasonfile

import (
	"bytes"

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

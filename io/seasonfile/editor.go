package seasonfile

import (
	"bytes"

	"go.yaml.in/yaml/v3"
)

// editor is a season file's tree with its bytes.
type editor struct {
	t    *text
	root *yaml.Node
}

func (f *File) editor() (*editor, error) {
	var doc yaml.Node
	if err := yaml.Unmarshal(bytes.TrimPrefix(f.Source, []byte(byteOrderMark)), &doc); err != nil {
		return nil, err // it was read before
	}
	return &editor{t: newText(f.Source), root: doc.Content[0]}, nil
}

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

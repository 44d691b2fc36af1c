package seasonfile

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"

	"primaprova/model"
)

// What a player calls a place in the file: not programmes[3].parts[0].arrives
// but tide/slate: arrives, by the names that commands take too. What has no name
// yet is counted from 1.

var indexed = regexp.MustCompile(`^(programmes|parts|passages|services|pins)\[(\d+)\]$`)

// listed finds the number of what is one of several in a list.
var listed = regexp.MustCompile(`\[(\d+)\](\.?)`)

// fromOne counts the entries of lists from 1, as people do.
func fromOne(path string) string {
	return listed.ReplaceAllStringFunc(path, func(s string) string {
		m := listed.FindStringSubmatch(s)
		i, _ := strconv.Atoi(m[1])
		return fmt.Sprintf(": entry %d%s", i+1, strings.Replace(m[2], ".", ": ", 1))
	})
}

// called gives a path by names. The root is the file's table; the season, which
// may be nil, knows parts that stand in tables of their own.
func called(path string, root *yaml.Node, s *model.Season) string {
	var name, rest []string
	programme, at := -1, root
	steps := strings.Split(path, ".")
	for n, step := range steps {
		m := indexed.FindStringSubmatch(step)
		if m == nil {
			rest = append(rest, fromOne(strings.Join(steps[n:], ".")))
			break
		}
		i, _ := strconv.Atoi(m[2])
		at = item(at, m[1], i)
		one := strings.TrimSuffix(m[1], "s")
		id := scalarOf(at, "id")
		switch m[1] {
		case "pins":
			if id = scalarOf(at, "session"); id != "" {
				id = "pin of " + id
			}
		case "programmes":
			programme = i
		case "parts":
			if at == nil && s != nil && programme < len(s.Programmes) && i < len(s.Programmes[programme].Parts) {
				id = s.Programmes[programme].Parts[i].ID
			}
		case "passages":
			if id == "" {
				id = scalarOf(at, "bars")
			}
		}
		if id == "" {
			rest = append(rest, fmt.Sprintf("%s %d", one, i+1))
		} else {
			name = append(name, id)
		}
	}
	switch {
	case len(rest) == 0:
		return strings.Join(name, "/")
	case len(name) == 0:
		return strings.Join(rest, ": ")
	}
	return strings.Join(name, "/") + ": " + strings.Join(rest, ": ")
}

// item gives an entry of a list in a table, nil where there is none.
func item(table *yaml.Node, key string, i int) *yaml.Node {
	list := under(table, key)
	if list == nil || list.Kind != yaml.SequenceNode || i >= len(list.Content) {
		return nil
	}
	return list.Content[i]
}

func under(table *yaml.Node, key string) *yaml.Node {
	if table == nil || table.Kind != yaml.MappingNode {
		return nil
	}
	for i := 0; i+1 < len(table.Content); i += 2 {
		if table.Content[i].Value == key {
			return table.Content[i+1]
		}
	}
	return nil
}

// scalarOf gives the text of a key, empty where it is none or too long to be a
// name.
func scalarOf(table *yaml.Node, key string) string {
	n := under(table, key)
	if n == nil || n.Kind != yaml.ScalarNode || n.Tag == "!!null" || len(n.Value) > longest {
		return ""
	}
	return strings.TrimSpace(n.Value)
}

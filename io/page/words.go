package page

import (
	"fmt"
	"strings"

	"primaprova/model"
)

// bars names a passage for the player, also one that the season has no more.
func (g *gathering) bars(name string) string {
	if p := g.passages[name]; p != nil {
		return p.Passage.Where()
	}
	return name[strings.LastIndexByte(name, '/')+1:]
}

// marked tells what is not ordinary of a passage; nothing is known of those that
// an estimate stands for.
func marked(p *model.Passage) string {
	if p.Unnamed {
		return ""
	}
	return nature(p.Hard, p.Exposed)
}

func nature(hard int, exposed bool) string {
	var out []string
	switch hard {
	case 1:
		out = append(out, "easy")
	case 3:
		out = append(out, "hard")
	}
	if exposed {
		out = append(out, "exposed")
	}
	return strings.Join(out, ", ")
}

// missing names what is left out of a part: its stages, and each passage with
// how many of its visits.
func (g *gathering) missing(list []*model.Unplaced) string {
	var out, order []string
	visits := map[string]int{}
	var minutes model.Minutes
	for _, u := range list {
		minutes += u.Minutes
		if u.Passage == nil {
			out = append(out, string(u.Stage))
			continue
		}
		if visits[*u.Passage] == 0 {
			order = append(order, *u.Passage)
		}
		visits[*u.Passage]++
	}
	for _, p := range order {
		if visits[p] == 1 {
			out = append(out, "1 visit of "+g.bars(p))
		} else {
			out = append(out, fmt.Sprintf("%d visits of %s", visits[p], g.bars(p)))
		}
	}
	return strings.Join(out, ", ") + " (" + minutes.String() + ")"
}

package page

import (
	"fmt"
	"strings"

	"primaprova/model"
)

// work gives a part's work, the part's name when the season no longer has it,
// and nothing for a warm-up.
func (g *gathering) work(part string) string {
	if w := g.parts[part]; w != nil {
		return w.Part.Work
	}
	return part
}

// bars names a passage for the player.
func (g *gathering) bars(name string) string {
	p := g.passages[name]
	switch {
	case p == nil:
		return name[strings.LastIndexByte(name, '/')+1:]
	case p.Passage.Unnamed:
		return "passage " + strings.TrimPrefix(p.Passage.ID, "unnamed-") + " of the estimate"
	case p.Passage.Bars != "":
		return "bars " + p.Passage.Bars
	}
	return p.Passage.ID
}

// nature tells what is not ordinary of a passage.
func (g *gathering) nature(name string) string {
	p := g.passages[name]
	if p == nil || p.Passage.Unnamed {
		return ""
	}
	var out []string
	switch p.Passage.Hard {
	case 1:
		out = append(out, "easy")
	case 3:
		out = append(out, "hard")
	}
	if p.Passage.Exposed {
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

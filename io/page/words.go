package page

import (
	"fmt"
	"strings"

	"primaprova/model"
)

// missing names what is left out of a part: its stages, and each passage with
// how many of its visits.
func (g *gathering) missing(list []*model.Unplaced) string {
	var out, order []string
	visits := map[string]int{}
	var minutes model.Minutes
	for _, u := range list {
		minutes += u.Minutes
		if u.Passage == nil {
			out = append(out, u.Word())
			continue
		}
		if visits[*u.Passage] == 0 {
			order = append(order, *u.Passage)
		}
		visits[*u.Passage]++
	}
	for _, p := range order {
		if visits[p] == 1 {
			out = append(out, "1 visit of "+g.Bars(p))
		} else {
			out = append(out, fmt.Sprintf("%d visits of %s", visits[p], g.Bars(p)))
		}
	}
	return strings.Join(out, ", ") + " (" + minutes.String() + ")"
}

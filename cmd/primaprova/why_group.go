package main

import (
	"fmt"
	"slices"
	"strings"

	"primaprova/model"
)

// group is what is left out of one part.
type group struct {
	part     string
	sessions []*model.Unplaced
	value    int
}

func (g *group) ids() (out []string) {
	for _, u := range g.sessions {
		out = append(out, u.ID)
	}
	return out
}

func (g *group) minutes() (sum model.Minutes) {
	for _, u := range g.sessions {
		sum += u.Minutes
	}
	return sum
}

// groups gives what is left out of what is asked about, by part, what counts
// most first. Nothing asked means everything.
func (y *asking) groups(asked string) ([]group, error) {
	values := map[string]int{}
	for _, w := range y.Season.Wanted(y.h.history) {
		values[w.ID] = w.Value
	}
	part := asked
	if asked != "" && strings.Count(asked, "/") < 2 {
		var err error
		if part, err = partNamed(y.Season, asked); err != nil {
			return nil, err
		}
	}
	var out []group
	for i := range y.plan.Unplaced {
		u := &y.plan.Unplaced[i]
		if part != "" && u.Part != part && u.ID != part && (u.Passage == nil || *u.Passage != part) {
			continue
		}
		n := slices.IndexFunc(out, func(g group) bool { return g.part == u.Part })
		if n < 0 {
			n = len(out)
			out = append(out, group{part: u.Part})
		}
		out[n].sessions = append(out[n].sessions, u)
		out[n].value += values[u.ID]
	}
	if len(out) == 0 && asked != "" && !y.knows(part) {
		return nil, wrong("%q is no part, passage or session of the season", asked).then("show programme")
	}
	slices.SortStableFunc(out, func(a, b group) int { return b.value - a.value })
	return out, nil
}

func (y *asking) sum(g *group) string {
	return fmt.Sprintf("%s (%d min) left out", several(len(g.sessions), "session", "sessions"), g.minutes())
}

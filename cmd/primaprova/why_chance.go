package main

import (
	"fmt"
	"strings"

	"primaprova/model"
	"primaprova/model/chance"
)

// sureEnough is the chance from which nothing need be said of raising it.
const sureEnough = 0.95

// sayRaises says how sure the part asked about is, or the least sure parts
// where none is, and what would raise that. Unlike an offer nothing of it is
// solved: it says where looking is worth while.
func (y *asking) sayRaises(asked string) {
	if y.take != "" {
		return
	}
	part := asked
	if p := strings.SplitN(asked, "/", 3); len(p) > 2 {
		part = p[0] + "/" + p[1]
	}
	y.most = model.Minutes(y.a.set.number("most"))
	const named = 3
	said, longer := 0, false
	c := y.chances()
	for i := range c.Parts {
		p := &c.Parts[i]
		if p.nothing || p.Part != part && (asked != "" || p.Chance >= sureEnough) {
			continue
		}
		if said++; said > named {
			break
		}
		y.tell(func() { y.say.line("%s", y.raiseLine(c.Runs, p, &longer)) })
	}
	if longer {
		y.tell(func() { y.say.line("%s", longerCaution) })
	}
}

// raiseLine says one part's chance, what raises it most, and how much of the
// rest is luck.
func (y *asking) raiseLine(runs int, p *chanceView, longer *bool) string {
	s := fmt.Sprintf("%s %s.", y.ShortTitle(p.Part), y.inTime(p, runs))
	best := map[chance.RaiseKind]bool{}
	var helps, luck []string
	for _, r := range y.raises(p.Part) {
		if r.Gain <= 2*r.Error || best[r.kind] {
			continue // no surer gain, or a smaller one of the same kind
		}
		best[r.kind] = true
		text := fmt.Sprintf("%s with %s", model.Percent(r.Chance), r.Text)
		if r.kind == chance.NoDay || r.kind == chance.AsGuess {
			luck = append(luck, text)
		} else {
			helps = append(helps, text)
		}
		*longer = *longer || r.kind == chance.Longer
	}
	if len(helps) > 0 {
		s += " What would raise it, perhaps at other parts' cost: " + strings.Join(helps, ", ") + "."
	}
	if len(luck) > 0 {
		s += " It would be " + strings.Join(luck, ", ") + "."
	}
	return s
}

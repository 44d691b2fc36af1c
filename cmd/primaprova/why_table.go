package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"primaprova/io/table"
	"primaprova/model"
	"primaprova/solver/conflict"
)

// What offers change is told in what a player counts; in the wishes for programs, and
// where that is asked for.

// offerColumns says what stands in the columns of an offer.
const offerColumns = "Left out: minutes, also of what is asked for no more. Late: days after the ready-by dates, of all passages. Moved: sessions on another day. Heavy: minutes of heavy days and rises. Gaps: days from the preferred ones."

// inWishes says where offers are told in the wishes.
func (y *asking) inWishes() string {
	if y.wishes {
		return " in the wishes"
	}
	return ""
}

func (y *asking) offerTable(offers []conflict.Offer, from int) *table.Table {
	t := &table.Table{Columns: []table.Column{{Name: "no", Right: true}, {Name: "offer", Wraps: true}}}
	for i, name := range [...]string{"left out", "late", "moved", "heavy", "gaps"} {
		if y.wishes {
			name = model.Wishes[i].String()
		}
		t.Columns = append(t.Columns, table.Column{Name: name, Right: true, From: map[bool]int{true: 0, false: phone}[i <= 1]})
	}
	for i := range offers {
		o := &offers[i]
		row := []string{strconv.Itoa(from + i + 1), y.offerWords(o) + y.outWords(o)}
		by := changed(o)
		if y.wishes {
			for _, by := range by {
				row = append(row, signed(by))
			}
		} else {
			row = append(row, signed(float64(inPlan(y.plan)-inPlan(o.Plan))), signed(by[model.ReadyBy]),
				strconv.Itoa(y.moved(o)), signed(by[model.Body]), signed(by[model.Spacing]))
		}
		t.Row(row...)
	}
	return t
}

// inPlan gives the minutes of a plan's sessions, warm-ups apart.
func inPlan(p *model.Plan) (sum model.Minutes) {
	for i := range p.Sessions {
		if p.Sessions[i].Stage != model.WarmUpStage {
			sum += p.Sessions[i].Minutes
		}
	}
	return sum
}

// moved counts the sessions that an offer puts on another day.
func (y *asking) moved(o *conflict.Offer) (n int) {
	for _, c := range y.changes(y.plan, o.Plan, y.h.history.Today).Sessions {
		if c.Kind == movedDay {
			n++
		}
	}
	return n
}

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

// sureEnough is the chance from which nothing need be said of raising it.
const sureEnough = 0.95

// saySure says how sure the part asked about is, or the least sure parts where none is.
func (y *asking) saySure(asked string) {
	if y.take != "" {
		return
	}
	const named = 3
	said := 0
	c := y.chances()
	for i := range c.Parts {
		p := &c.Parts[i]
		if p.nothing || p.Part != partOf(asked) && (asked != "" || p.Chance >= sureEnough) {
			continue
		}
		if said++; said > named {
			break
		}
		y.tell(func() {
			y.say.line("%s %s; worked as often as needed, but for last checks, in %s.", y.ShortTitle(p.Part), y.inTime(p, c.Runs), model.Percent(p.Worked))
		})
	}
	if asked == "" && said > 0 {
		y.say.line("What would make one of them surer: why, with its name.")
	}
}

// partOf gives the part of a part, a passage or a session.
func partOf(name string) string {
	if p := strings.SplitN(name, "/", 3); len(p) > 2 {
		return p[0] + "/" + p[1]
	}
	return name
}

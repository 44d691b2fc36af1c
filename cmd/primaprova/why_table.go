package main

import (
	"strconv"

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

package main

import (
	"fmt"

	"primaprova/model"
)

// spell fills in what is said of days of pain or lost ones: how long, what
// became of their services, and what stood planned on the days after.
func (b *book) spell(o *sayings, e *model.Event) error {
	switch {
	case o.until != "" && o.open:
		return fmt.Errorf("--until and --open say different things: one at a time")
	case o.played && o.missed:
		return fmt.Errorf("--services-played and --services-missed say different things: one at a time")
	case o.until != "":
		last, err := model.ParseDate(o.until)
		switch s := b.f.Season; {
		case err != nil:
			return fmt.Errorf("--until: %v", err)
		case last < e.Date || !s.Holds(last):
			return fmt.Errorf("--until: %v does not lie between %v and the season's end, %v", last, e.Date, s.To)
		}
		e.Last = last
	}
	e.Open = o.open
	if o.played {
		e.Services = model.ServicesPlayed
	} else if o.missed {
		e.Services = model.ServicesMissed
	}
	e.Stood = b.standing(max(e.Date, e.Last))
	return nil
}

// standing gives the planned playing that stands on each day after a date, as far
// as light days may reach.
func (b *book) standing(after model.Date) (out []model.DayMinutes) {
	if b.plan == nil {
		return nil
	}
	sum := map[model.Date]model.Minutes{}
	for i := range b.plan.Sessions {
		if v := &b.plan.Sessions[i]; v.Stage.Playing() && v.Stage != model.WarmUpStage {
			sum[v.Date] += v.Minutes
		}
	}
	last := b.f.Season.To
	for d := after + 1; d <= min(last, after+standingDays); d++ {
		out = append(out, model.DayMinutes{Date: d, Minutes: sum[d]})
	}
	return out
}

// standingDays is how many days after one of pain the record keeps what stood on
// them: a spell of three weeks and its light days.
const standingDays = 28

package hours

import "primaprova/model"

// keep leaves a day as it stood where it holds the same sessions and its hours
// keep the rules. Hours that are those of first fit are none that anybody chose,
// unless better ones were looked for when they were given.
func (d *day) keep() bool {
	if len(d.stood) != len(d.sessions) {
		return false
	}
	was := map[string]*model.Session{}
	for _, v := range d.stood {
		was[v.ID] = v
	}
	before := clockOf(d.sessions)
	same := true
	for _, v := range d.sessions {
		o := was[v.ID]
		if o == nil || o.Minutes != v.Minutes || o.Start == nil || o.Ends == nil {
			before.restore()
			return false
		}
		same = same && v.Start != nil && *v.Start == *o.Start
		v.Start, v.Ends, v.Rests = o.Start, o.Ends, o.Rests
	}
	if same && !d.chosen || len(d.s.DayBreaches(d.date, d.sessions)) > 0 {
		before.restore()
		return false
	}
	d.changed = !same
	return true
}

// stoodAt gives where the day's sessions began in the standing plan, on this
// day, unless that was nobody's choice but first fit's.
func (d *day) stoodAt() map[string]model.Clock {
	fitted := make([]*model.Session, len(d.stood))
	for i, v := range d.stood {
		w := *v
		fitted[i] = &w
	}
	if !d.s.LayOut(d.date, fitted) {
		return nil
	}
	at, chosen := map[string]model.Clock{}, d.chosen
	for i, v := range d.stood {
		if v.Start == nil {
			continue
		}
		at[v.ID] = *v.Start
		chosen = chosen || *fitted[i].Start != *v.Start
	}
	if !chosen {
		return nil
	}
	return at
}

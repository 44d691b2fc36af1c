package hours

import "primaprova/model"

// urgent lets visits change places where the more urgent one comes later and no
// wish is worse for it: hard places stay early, and among the rest what cannot
// wait is not what a long day cuts off.
func (d *day) urgent(stood map[string]model.Clock) {
	var visits []*model.Session
	for _, v := range d.sessions {
		if v.Stage == model.PassageStage {
			visits = append(visits, v)
		}
	}
	for swapped := true; swapped; {
		swapped = false
		sortByStart(visits)
		for i := 0; i+1 < len(visits) && !swapped; i++ {
			for _, b := range visits[i+1:] {
				a := visits[i]
				if d.rank[b.ID] < d.rank[a.ID] && d.swap(a, b, stood) {
					swapped = true
					break
				}
			}
		}
	}
}

// together lets visits of one length change places where the day is better for
// it: with them a work comes to lie in one block, which the program leaves open
// on crowded days.
func (d *day) together(stood map[string]model.Clock) {
	if d.s.Habits.PartChanges == model.MixedParts {
		return
	}
	for better := true; better; {
		better = false
		for i, a := range d.sessions {
			for _, b := range d.sessions[i+1:] {
				if a.Stage != model.PassageStage || b.Stage != model.PassageStage || a.Minutes != b.Minutes || a.Part == b.Part {
					continue
				}
				had, first, second := d.cost(stood), a, b
				if *b.Start < *a.Start {
					first, second = b, a
				}
				if d.swap(first, second, stood) && d.cost(stood).Less(*had) {
					better = true
				}
			}
		}
	}
}

// swap lets b take the place of a, which comes before it, and a that of b; of
// unequal lengths only where one follows on the other.
func (d *day) swap(a, b *model.Session, stood map[string]model.Clock) bool {
	first, second := *a.Start, *b.Start
	if a.Minutes != b.Minutes {
		if *a.Ends != second {
			return false
		}
		second = first + model.Clock(d.s.Shape(b).Length())
	}
	before, had := clockOf(d.sessions), d.cost(stood)
	d.s.Place(b, first)
	d.s.Place(a, second)
	if len(d.s.DayBreaches(d.date, d.sessions)) > 0 || had.Less(*d.cost(stood)) {
		before.restore()
		return false
	}
	return true
}

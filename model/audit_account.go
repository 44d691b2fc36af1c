package model

// The rules that compare the plan with what the season and the record ask for.

func (a *audit) minutesKept() {
	for _, v := range a.sessions {
		w := a.byID[v.ID]
		if w == nil || v.Stage == WarmUpStage {
			continue
		}
		want := w.On(v.Date)
		if v.Minutes != want.Minutes {
			a.breach(v.Date, v.Minutes-want.Minutes, v.ID, "%s lasts %v instead of %v", v.ID, v.Minutes, want.Minutes)
		}
		if v.Stage != want.Stage || v.Playing != want.Playing || v.Part != want.Part ||
			!equal(v.Passage, want.Passage) || !equal(v.Visit, want.Visit) || !equal(v.Visits, want.Visits) {
			a.breach(v.Date, 0, v.ID, "%s is not written as what its name says", v.ID)
		}
	}
}

func (a *audit) accountedKept() {
	count := map[string]int{}
	for _, v := range a.sessions {
		w := a.byID[v.ID]
		_, done := a.done[v.ID]
		switch {
		case w != nil && v.Stage == WarmUpStage:
			a.breach(v.Date, 0, v.ID, "%s is written as a warm-up", v.ID)
		case w == nil && v.Stage != WarmUpStage && !done: // done: the past rule's matter
			a.breach(v.Date, 0, v.ID, "%s is planned, nothing asks for it", v.ID)
		}
		count[v.ID]++
	}
	for i := range a.p.Unplaced {
		u := &a.p.Unplaced[i]
		w := a.byID[u.ID]
		if w == nil {
			a.breach(0, 0, u.ID, "%s is left out, nothing asks for it", u.ID)
			continue
		}
		count[u.ID]++
		want := w.LeftOut()
		if u.Stage != want.Stage || u.Part != want.Part || u.Minutes != want.Minutes || !equal(u.Passage, want.Passage) || !equal(u.Visit, want.Visit) {
			a.breach(0, 0, u.ID, "%s is not left out as what its name says", u.ID)
		}
	}
	for i := range a.wanted {
		if n := count[a.wanted[i].ID]; n != 1 {
			a.breach(0, a.wanted[i].Minutes, a.wanted[i].ID, "%s stands in the plan %d times instead of once", a.wanted[i].ID, n)
		}
	}
	a.daysRight()
}

// daysRight compares the plan's days from today on with sums of its sessions.
func (a *audit) daysRight() {
	sums := *a.p
	a.s.PlanDays(&sums)
	if len(sums.Days) != len(a.p.Days) {
		a.breach(0, 0, "", "the plan sums up %d days instead of %d", len(a.p.Days), len(sums.Days))
		return
	}
	for i, want := range sums.Days {
		if got := a.p.Days[i]; got != want && (want.Date >= a.today || want.Date == a.kept) {
			a.breach(want.Date, got.Load()-want.Load(), "", "the day's sums are %+v instead of %+v", got, want)
		}
	}
}

func (a *audit) pastKept() {
	for _, v := range a.sessions {
		if day, ok := a.done[v.ID]; ok {
			a.breach(v.Date, 0, v.ID, "%s is planned again, the record says it was done on %v", v.ID, day)
		} else if v.Date == a.today && a.refused[nameOf(v.ID)] {
			a.breach(v.Date, 0, v.ID, "%s is planned today again, the record says it was not done", v.ID)
		}
	}
}

func (a *audit) pinnedKept() {
	for _, pin := range a.s.Pins {
		// The day of a pin may have gone by without the session being done.
		if v := a.placed[pin.Session]; v != nil && v.Date != pin.Date && pin.Date >= a.today {
			a.breach(v.Date, 0, v.ID, "%s is pinned to %v", v.ID, pin.Date)
		}
	}
}

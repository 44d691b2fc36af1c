package model

// The rules that look at one day at a time. On a rest day or a day off the
// rules for minutes judge what the limits say of an ordinary day, so that one
// mistake is one breach.

func (a *audit) capKept() {
	for i := range a.days {
		d := &a.days[i]
		if over := d.playing - d.Beside; over > 0 && !d.Rest && d.playing > d.done.playing {
			a.breach(d.Date, over, "", "%v of playing planned where the cap of %v leaves %v: %v over", d.playing, d.Cap, d.Beside, over)
		}
	}
}

func (a *audit) restKept() {
	for i := range a.days {
		d := &a.days[i]
		if all := d.playing + d.warmUp; all > 0 && d.Rest && !d.Off && d.more() {
			a.breach(d.Date, all, "", "%v of playing planned on a rest day", all)
		}
	}
}

func (a *audit) offKept() {
	for i := range a.days {
		d := &a.days[i]
		if d.Off && (d.more() || d.listened > d.done.listened) {
			all := d.playing + d.warmUp + d.listened
			a.breach(d.Date, all, "", "%v planned on a day off", all)
		}
	}
}

// more tells whether playing is planned beyond what has happened already; a
// warm-up belongs to the playing of its day.
func (d *auditDay) more() bool {
	return d.playing > d.done.playing || d.warmUp > 0 && d.done.playing == 0
}

func (a *audit) passagesKept() {
	for i := range a.days {
		d := &a.days[i]
		if d.passages > d.Room.Passages && d.passages > d.done.passages {
			a.breach(d.Date, 0, "", "%d passages planned where the limit is %d", d.passages, d.Room.Passages)
		}
	}
}

// newKept: where the season allows it the rooms do, so that there is nothing to
// find.
func (a *audit) newKept() {
	for _, v := range a.sessions {
		if w := a.byID[v.ID]; w != nil && w.Stage == PassageStage && w.Visit == 1 && a.s.Holds(v.Date) && !a.s.RoomOn(v.Date).New {
			a.breach(v.Date, 0, v.ID, "%s is a first visit on the day of a concert", v.ID)
		}
	}
}

func (a *audit) listeningKept() {
	for i := range a.days {
		d := &a.days[i]
		if over := d.listened - a.s.Limits.Listening; over > 0 && d.listened > d.done.listened {
			a.breach(d.Date, over, "", "%v of listening planned where the limit is %v: %v over", d.listened, a.s.Limits.Listening, over)
		}
	}
}

func (a *audit) warmUpKept() {
	for i := range a.days {
		d := &a.days[i]
		var warm []*Session
		for _, v := range d.sessions {
			if v.Stage == WarmUpStage {
				warm = append(warm, v)
			}
		}
		want := 0
		if d.playing > 0 && d.Room.WarmUp > 0 {
			want = 1
		}
		if len(warm) == 0 && d.Date == a.kept && !d.more() {
			continue // today stands, and what was done on it was done without
		}
		if len(warm) != want {
			a.breach(d.Date, d.Room.WarmUp, "", "%d warm-ups planned where there should be %d", len(warm), want)
			continue
		}
		for _, v := range warm {
			a.warmUpRight(d, v)
		}
	}
}

func (a *audit) warmUpRight(d *auditDay, w *Session) {
	switch {
	case w.Minutes != d.Room.WarmUp:
		a.breach(d.Date, w.Minutes-d.Room.WarmUp, w.ID, "the warm-up lasts %v instead of %v", w.Minutes, d.Room.WarmUp)
	case w.ID != WarmUpID(d.Date) || !w.Playing || w.Part != "" || w.Passage != nil || w.Visit != nil || w.Visits != nil:
		a.breach(d.Date, 0, w.ID, "the warm-up is not written as one")
	}
	for _, v := range d.sessions {
		if v != w && v.Stage.Playing() && v.Start != nil && w.Start != nil && *v.Start < *w.Start {
			a.breach(d.Date, 0, v.ID, "%s is played before the warm-up", v.ID)
		}
	}
}

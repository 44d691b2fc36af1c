package model

// The rules that follow one part or passage through its days.

func (a *audit) windowKept() {
	for i := range a.work {
		w := &a.work[i]
		within := func(id string, days Range) {
			if v := a.placed[id]; v != nil && !days.Holds(v.Date) {
				a.breach(v.Date, 0, v.ID, "%s lies outside its window %v", v.ID, days)
			}
		}
		for _, x := range w.Sittings {
			within(x.ID, w.Window)
		}
		within(StageID(w.Name, ReadStage), w.Window)
		within(StageID(w.Name, RecordingsStage), Range{w.Window.From, w.RecordingDays(&a.s.Habits).To})
		for j := range w.Passages {
			p := &w.Passages[j]
			days := w.VisitDays(p)
			for k := len(p.Done); k < len(p.Recipe); k++ {
				if v := a.placed[VisitID(p.Name, k+1)]; v != nil && !days.Holds(v.Date) {
					a.breach(v.Date, 0, v.ID, "%s lies outside its window %v", v.ID, days)
				}
			}
		}
	}
	for _, v := range a.sessions {
		if a.byID[v.ID] == nil && !a.s.Holds(v.Date) {
			a.breach(v.Date, 0, v.ID, "%s lies outside the season", v.ID)
		}
	}
}

func (a *audit) orderKept() {
	for i := range a.work {
		w := &a.work[i]
		a.sittingsRun(w)
		a.readAfterListening(w)
		read, ok := a.stageDay(w, ReadStage)
		for j := range w.Passages {
			a.visitsInOrder(&w.Passages[j], read, ok)
		}
		v := a.placed[StageID(w.Name, RecordingsStage)]
		if v == nil {
			continue
		}
		if !ok || v.Date <= read {
			a.breach(v.Date, 0, v.ID, "%s does not come after the read-through", v.ID)
		}
		if last := w.RecordingDays(&a.s.Habits); v.Date < last.From {
			a.breach(v.Date, 0, v.ID, "%s comes before the last %d days of the window", v.ID, a.s.Habits.LastDays)
		}
		if first := a.lastFirst(w); ok && v.Date > read && first != nil && v.Date <= first.Date {
			a.breach(v.Date, 0, v.ID, "%s does not come after all first visits: %s is on %v", v.ID, first.ID, first.Date)
		}
	}
}

func (a *audit) readAfterListening(w *PartWork) {
	read := a.placed[StageID(w.Name, ReadStage)]
	if read == nil {
		return
	}
	for _, x := range w.ToHear() {
		listening := a.placed[x.ID]
		if listening == nil {
			a.breach(read.Date, 0, read.ID, "%s is planned, its listening is not", read.ID)
			return
		}
		later := listening.Date > read.Date
		if listening.Date == read.Date && listening.Start != nil && read.Start != nil {
			later = *listening.Start > *read.Start
		}
		if later {
			a.breach(read.Date, 0, read.ID, "%s comes before its listening", read.ID)
			return
		}
	}
}

// sittingsRun: the sittings that lie ahead lie on days running, days off left aside,
// or none of them is planned.
func (a *audit) sittingsRun(w *PartWork) {
	ahead := w.ToHear()
	for k := 1; k < len(ahead); k++ {
		before, v := a.placed[ahead[k-1].ID], a.placed[ahead[k].ID]
		switch {
		case before == nil && v == nil:
		case before == nil:
			a.breach(v.Date, 0, v.ID, "%s is planned, %s is not", v.ID, ahead[k-1].ID)
		case v == nil:
			a.breach(before.Date, 0, before.ID, "%s is planned, %s is not", before.ID, ahead[k].ID)
		case before.Date != a.s.HeardBefore(v.Date, a.s.From):
			a.breach(v.Date, 0, v.ID, "%s does not come on the day after %s", v.ID, before.ID)
		}
	}
}

func (a *audit) visitsInOrder(p *PassageWork, read Date, readThrough bool) {
	for k := len(p.Done); k < len(p.Recipe); k++ {
		v := a.placed[VisitID(p.Name, k+1)]
		if v == nil {
			continue
		}
		if k == 0 {
			if !readThrough || v.Date <= read {
				a.breach(v.Date, 0, v.ID, "%s does not come after the read-through", v.ID)
			}
		} else if _, ok := a.visitDay(p, k-1); !ok {
			a.breach(v.Date, 0, v.ID, "%s is planned, the visit before it is not", v.ID)
		}
	}
}

func (a *audit) gapKept() {
	for i := range a.work {
		for j := range a.work[i].Passages {
			p := &a.work[i].Passages[j]
			for k := max(1, len(p.Done)); k < len(p.Recipe); k++ {
				v := a.placed[VisitID(p.Name, k+1)]
				before, ok := a.visitDay(p, k-1)
				if v == nil || !ok {
					continue
				}
				if gap := int(v.Date - before); gap < p.Recipe[k].Least {
					a.breach(v.Date, 0, v.ID, "%s comes %d days after the visit before, %d at least are asked for", v.ID, gap, p.Recipe[k].Least)
				}
			}
		}
	}
}

func (a *audit) allOnceKept() {
	const third = 3
	for i := range a.work {
		w := &a.work[i]
		first := a.lastFirst(w)
		if first == nil {
			continue
		}
		for j := range w.Passages {
			p := &w.Passages[j]
			if v := a.placed[VisitID(p.Name, third)]; v != nil && v.Date <= first.Date {
				a.breach(v.Date, 0, v.ID, "%s comes before all passages of the part were visited once: %s is on %v", v.ID, first.ID, first.Date)
			}
		}
	}
}

// lastFirst gives the latest of the first visits planned that open a part's first
// round; nil where none is.
func (a *audit) lastFirst(w *PartWork) (first *Session) {
	for j := range w.Passages {
		if v := a.placed[VisitID(w.Passages[j].Name, 1)]; v != nil && w.Passages[j].Passage.Found == 0 && (first == nil || v.Date > first.Date) {
			first = v
		}
	}
	return first
}

// VisitDays gives the days on which the visits of a passage may lie: from the
// part's arrival, or the day the passage was found, to the day before it is
// due. It may be empty.
func (w *PartWork) VisitDays(p *PassageWork) Range {
	return Range{max(w.Window.From, p.Passage.Found), p.Deadline - 1}
}

// RecordingDays gives the days on which the return to the recordings may lie:
// the last days of the window, and those after it on which first visits of the
// first round may lie, which it comes after.
func (w *PartWork) RecordingDays(h *Habits) Range {
	out := Range{max(w.Window.From, w.Window.To-Date(h.LastDays)+1), w.Window.To}
	for i := range w.Passages {
		if p := &w.Passages[i]; p.Passage.Found == 0 {
			out.To = max(out.To, p.Deadline-1)
		}
	}
	return out
}

package model

import "slices"

// Resume turns a record into the history from which a plan that stands is gone
// on with, and says what becomes of today.
//
// Today stays as it stands as long as it can: its sessions of which the record
// says nothing count as standing, whatever Replaying.TakeAsDone says, what was
// not done goes, and nothing is added. Then History.Kept is today, and planning
// begins tomorrow. It cannot stay where what stands on it, with what is done
// already, breaks a rule of today as season and record have it now: a lower cap,
// a day off or of pain, a pin to today or off it, a visit whose gap or whose
// read-through is missing, work that nothing asks for any more. Then today is
// planned anew like a day ahead, and broken lists those rules. Lengths are none
// of them: a session keeps the one with which it stood.
//
// Without a standing plan, and outside the season, today is a day like any.
func (s *Season) Resume(events []Event, standing *Plan, o Replaying) (h *History, remarks []Remark, broken []Breach) {
	h, remarks = s.Replay(events, standing, o)
	if standing == nil || !s.Holds(o.Today) {
		return h, remarks, nil
	}
	if broken = s.With(h).brokenToday(h, standing); len(broken) > 0 {
		return h, remarks, broken
	}
	o.Today, o.keep = o.Today+1, true
	h, remarks = s.Replay(events, standing, o)
	return h, remarks, nil
}

// brokenToday gives the rules that today breaks where it stays as it stands.
func (s *Season) brokenToday(h *History, standing *Plan) (out []Breach) {
	p := &Plan{Sessions: s.Past(h, standing)}
	done := map[SessionDay]bool{}
	plays, toPlay := false, false // on today; of what stands on it
	for i := range p.Sessions {
		v := &p.Sessions[i]
		done[v.Key()] = true
		plays = plays || v.Playing && v.Date == h.Today
	}
	next := map[string]Wanted{} // name -> what is wanted of it next
	work := s.Work(h)
	for _, w := range s.wanted(work) {
		if _, ok := next[nameOf(w.ID)]; !ok {
			next[nameOf(w.ID)] = w
		}
	}
	found := map[string]bool{} // passages that open no first round, upkeep among them
	for i := range work {
		for j := range work[i].Passages {
			q := &work[i].Passages[j]
			found[q.Name] = q.Passage.Found != 0
		}
	}
	stood, round := map[string]bool{}, map[string]string{} // part -> a passage that waits for its first visit
	for i := range standing.Sessions {
		v := &standing.Sessions[i]
		if w, ok := next[nameOf(v.ID)]; ok && w.Visit == 1 && v.Date != h.Today && !found[w.Passage] {
			round[w.Part] = w.Passage
		}
	}
	var warm *Session
	judged := *h
	judged.Taken = slices.Clone(h.Taken)
	for i := range standing.Sessions {
		v := standing.Sessions[i]
		switch {
		case v.Date != h.Today || done[v.Key()] || h.Refused[nameOf(v.ID)]:
			continue
		case v.Stage == WarmUpStage:
			warm = &standing.Sessions[i]
			continue
		}
		if w, ok := next[nameOf(v.ID)]; ok {
			as := w.On(v.Date)
			as.Start, as.Ends, as.Rests, as.Minutes = v.Start, v.Ends, v.Rests, v.Minutes
			rule := map[bool]RuleID{w.Visit == 3: AllOnceRule, w.Stage == RecordingsStage: OrderRule}[true]
			if rule != "" && round[w.Part] != "" {
				out = append(out, Breach{Rule: rule, Date: v.Date, Name: as.ID,
					Text: as.ID + " comes before all passages of the part were visited once: " + round[w.Part] + " was not"})
			}
			v = as
		} else {
			judged.Taken = append(judged.Taken, v.Key()) // a read-through that a find says was done: it stands all the same
		}
		stood[v.ID] = true
		toPlay = toPlay || v.Playing
		p.Sessions = append(p.Sessions, v)
	}
	if (plays || toPlay) && warm != nil {
		p.Sessions = append(p.Sessions, *warm)
	}
	for _, b := range s.Audit(p, &judged) {
		cold := b.Rule == WarmUpRule && b.Name == "" && !toPlay // what was done was done without: no planning mends it
		if b.Date == h.Today && b.Rule != MinutesRule && !cold {
			out = append(out, b)
		}
	}
	for _, pin := range s.Pins {
		if w, wanted := next[nameOf(pin.Session)]; wanted && w.ID == pin.Session && pin.Date == h.Today && !stood[w.ID] {
			out = append(out, Breach{Rule: PinnedRule, Date: pin.Date, Name: w.ID, Text: w.ID + " is pinned to today"})
		}
	}
	return out
}

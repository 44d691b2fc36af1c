package model

// Wanted is one session that the season asks for and the record does not call
// done. Each is planned on one day or left out.
type Wanted struct {
	ID      string
	Stage   Stage
	Part    string // programme/part
	Passage string // programme/part/passage; empty but for visits
	Visit   int    // from 1; 0 but for visits
	Visits  int    // visits of the recipe; 0 but for visits
	Minutes Minutes
	Value   int // what leaving it out costs

	GivesWay bool // it goes before what others ask for; see give_way.go
}

// Wanted gives the sessions that are to be planned, part by part in the order
// of the season file; what was due by a first rehearsal that has come is not
// among them. The history may be nil.
func (s *Season) Wanted(h *History) []Wanted { return s.wanted(s.Work(h)) }

func (s *Season) wanted(work []PartWork) []Wanted {
	var out []Wanted
	for i := range work {
		out = append(out, s.undone(&work[i], true)...)
	}
	return out
}

// undone gives a part's sessions that the record does not call done, all of them
// or those that lie ahead.
func (s *Season) undone(w *PartWork, ahead bool) []Wanted {
	var out []Wanted
	stage := func(stage Stage, minutes Minutes, done Date, over bool) {
		if minutes > 0 && done == 0 && !(ahead && over) {
			out = append(out, Wanted{ID: StageID(w.Name, stage), Stage: stage, Part: w.Name, Minutes: minutes,
				Value: s.Habits.StageWorth(stage, minutes)})
		}
	}
	for _, x := range w.ToHear() {
		if !(ahead && w.Over) {
			out = append(out, Wanted{ID: x.ID, Stage: ListeningStage, Part: w.Name, Minutes: x.Minutes, Value: s.Habits.StageWorth(ListeningStage, x.Minutes)})
		}
	}
	read := w.Read
	if w.Unread {
		read = 0
	}
	stage(ReadStage, w.Part.ReadThrough, read, w.Over)
	for j := range w.Passages {
		p := &w.Passages[j]
		if ahead && p.Over {
			continue
		}
		for k := len(p.Done); k < len(p.Recipe); k++ {
			out = append(out, Wanted{
				ID: VisitID(p.Name, k+1), Stage: PassageStage, Part: w.Name, Passage: p.Name,
				Visit: k + 1, Visits: len(p.Recipe), Minutes: p.Recipe[k].Minutes, Value: p.Recipe[k].Value,
				GivesWay: w.GivesWay && k >= sparing,
			})
		}
	}
	stage(RecordingsStage, w.Part.Recordings, w.Recorded, w.RecOver)
	return out
}

// On gives the session on a day, without hours yet.
func (w *Wanted) On(d Date) Session {
	out := Session{ID: w.ID, Date: d, Minutes: w.Minutes, Playing: w.Stage.Playing(), Stage: w.Stage, Part: w.Part}
	out.Passage, out.Visit = w.pointers()
	if w.Stage == PassageStage {
		visits := w.Visits
		out.Visits = &visits
	}
	return out
}

// LeftOut gives the session as one that the plan leaves out.
func (w *Wanted) LeftOut() Unplaced {
	out := Unplaced{ID: w.ID, Stage: w.Stage, Part: w.Part, Minutes: w.Minutes}
	out.Passage, out.Visit = w.pointers()
	return out
}

// pointers gives the fields that plan files write as null for stages.
func (w *Wanted) pointers() (passage *string, visit *int) {
	if w.Stage != PassageStage {
		return nil, nil
	}
	name, k := w.Passage, w.Visit
	return &name, &k
}

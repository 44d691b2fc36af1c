package instance

import "primaprova/model"

// Part is one part in numbers. Stage lengths are 0 for what is not wanted any
// more (done, or never asked for).
type Part struct {
	Work                             *model.PartWork
	Lo, Hi                           int   // days on which anything of the part may lie, hi the last
	WinLo, WinHi                     int   // days of listening, read-through and recordings
	RecLo, RecHi                     int   // days of the return to the recordings
	Listen, Read, Rec                int   // minutes; 0: not wanted
	ListenWorth, ReadWorth, RecWorth int   // worth when left out
	Meets                            []int // parts whose days meet this one's, itself included
	Nearest                          []int // itself, and of the others those that share the most days with it
	ReadDone                         bool
	First, Last                      int    // passages[first:last]
	Stand                            [3]int // standing day of listening, read-through, recordings; none
	Pin                              [3]int // pinned day; none
	Refused                          [3]int // day on which it may not lie, since it was not done there; none
	ListenID                         string
	Sits                             []Sit // where it is heard in several sittings
	before                           []Day // by day: the one before it that is no day off
}

// Passage is one passage in numbers: the visits that lie ahead.
type Passage struct {
	Work    *model.PassageWork
	Part    int
	Done    int // visits done before
	Visits  []Visit
	Lo, Hi  int  // days on which a visit may lie
	Ready   int  // a last visit after this day is late
	Fresh   int  // a last visit before this day is too early
	Since   int  // day of the last visit done; before when none
	InRound bool // first visit lies ahead and belongs to the first round
	Third   int  // index in visits of the third visit bound by the first round; none
}

// Visit is one visit that lies ahead.
type Visit struct {
	Minutes, Least, Preferred, Value int
	Stand                            int    // its day in the standing plan; none
	Pin                              int    // its pinned day; none
	Barred                           []bool // by day, where some days bar it beside those without room; may be nil
}

// May tells whether a visit may lie on a day, room apart. All that choose days ask it, and
// Part.Allowed: a rule about who may be on a day needs nothing else in the solver.
func (v *Visit) May(d int) bool {
	return (v.Pin == None || v.Pin == d) && (v.Barred == nil || !v.Barred[d])
}

// Worth gives the worth of the visits from k on.
func (q *Passage) Worth(k int) int {
	sum := 0
	for _, v := range q.Visits[k:] {
		sum += v.Value
	}
	return sum
}

// Allowed tells whether a stage may lie on a day, room apart: as far as pins go, and what was
// refused there.
func (q *Part) Allowed(stage, d int) bool {
	if stage == 0 && q.Sits != nil {
		return q.sits(d)
	}
	return (q.Pin[stage] == None || q.Pin[stage] == d) && q.Refused[stage] != d
}

// Stages lists the stages of a part in the order of part.stand and part.pin.
var Stages = [3]model.Stage{model.ListeningStage, model.ReadStage, model.RecordingsStage}

func (p *Instance) addPart(w *model.PartWork, at, pins map[string]int, refused map[string]bool) {
	from, h := p.Season.From, &p.Season.Habits
	q := Part{Work: w, First: len(p.Passages)}
	q.WinLo = max(int(w.Window.From-from), p.Today)
	q.WinHi = int(w.Window.To - from)
	recs := w.RecordingDays(h)
	q.RecLo, q.RecHi = max(q.WinLo, int(recs.From-from)), int(recs.To-from)
	if w.Read != 0 {
		q.RecLo = max(q.RecLo, int(w.Read-from)+1) // the read-through may have been today
	}
	q.Lo, q.Hi = q.WinLo, q.WinHi
	q.ReadWorth = h.StageWorth(model.ReadStage, w.Part.ReadThrough)
	q.RecWorth = h.StageWorth(model.RecordingsStage, w.Part.Recordings)
	for i, st := range Stages {
		id := model.StageID(w.Name, st)
		q.Stand[i], q.Pin[i], q.Refused[i] = dayOf(at, id), dayOf(pins, id), None
		if refused[id] {
			q.Refused[i] = p.Today
		}
	}
	q.ReadDone = w.Read != 0
	q.ListenID = model.StageID(w.Name, model.ListeningStage)
	if w.Listened == 0 && !w.Over {
		p.listenings(&q, w, at, pins, refused)
	}
	if !q.ReadDone && !w.Over {
		q.Read = int(w.Part.ReadThrough)
	}
	if w.Recorded == 0 && !w.RecOver {
		q.Rec = int(w.Part.Recordings)
	}
	for i := range w.Passages {
		pw := &w.Passages[i]
		if len(pw.Done) >= len(pw.Recipe) || pw.Over {
			continue
		}
		p.Passages = append(p.Passages, p.passage(len(p.Parts), w, pw, at, pins))
		if v := &p.Passages[len(p.Passages)-1]; refused[pw.Name] {
			v.Lo = max(v.Lo, p.Today+1)
		}
		q.Hi = max(q.Hi, p.Passages[len(p.Passages)-1].Hi)
	}
	q.Last = len(p.Passages)
	q.Hi = max(q.Hi, q.RecHi)
	p.Parts = append(p.Parts, q)
}

func (p *Instance) passage(part int, w *model.PartWork, pw *model.PassageWork, at, pins map[string]int) Passage {
	from := p.Season.From
	q := Passage{Work: pw, Part: part, Done: len(pw.Done), Since: Before, Third: None}
	q.Lo = max(int(max(w.Part.Arrives, pw.Passage.Found, from)-from), p.Today)
	q.Hi = int(pw.Deadline-from) - 1
	q.Ready, q.Fresh = int(pw.Ready-from), int(pw.Fresh-from)
	if q.Done > 0 {
		q.Since = int(pw.Done[q.Done-1] - from)
	} else if w.Read != 0 {
		q.Lo = max(q.Lo, int(w.Read-from)+1)
	}
	q.InRound = pw.Passage.Found == 0 && q.Done == 0
	if t := 2 - q.Done; t >= 0 && t < len(pw.Recipe)-q.Done {
		q.Third = t
	}
	for k, v := range pw.Recipe[q.Done:] {
		id := model.VisitID(pw.Name, q.Done+k+1)
		q.Visits = append(q.Visits, Visit{int(v.Minutes), v.Least, v.Preferred, v.Value, dayOf(at, id), dayOf(pins, id), nil})
	}
	if q.Done == 0 && len(q.Visits) > 0 {
		q.Visits[0].Barred = p.old
	}
	return q
}

func dayOf(m map[string]int, id string) int {
	if d, ok := m[id]; ok {
		return d
	}
	return None
}

// standingDays gives the day of each session of a standing plan that lies
// today or later.
func standingDays(s *model.Season, plan *model.Plan, today int) map[string]int {
	at := map[string]int{}
	if plan == nil {
		return at
	}
	for _, v := range plan.Sessions {
		if d := int(v.Date - s.From); d >= today {
			at[v.ID] = d
		}
	}
	return at
}

// Box is a set of a part's frames: those whose read-through lies on the days
// from read[0] to read[1], and whose first round ends on the days from phi[0] to
// phi[1]. A part that is not read through is in every box: what a box takes
// away is the choice of days, never the choice to leave out.
type Box struct{ Read, Phi [2]Day }

// AllFrames gives the box of all frames of a part. A first round that is over
// ends on the day before the part's first.
func (q *Part) AllFrames() Box {
	b := Box{[2]Day{Day(q.WinLo), Day(q.WinHi)}, [2]Day{Day(q.Lo - 1), Day(q.Hi)}}
	if q.ReadDone {
		b.Read = [2]Day{Before, Before}
	}
	return b
}

// Reads and ends tell whether the read-through may lie, and the first round end,
// on a day.
func (b Box) Reads(d int) bool { return int(b.Read[0]) <= d && d <= int(b.Read[1]) }

func (b Box) Ends(d int) bool { return int(b.Phi[0]) <= d && d <= int(b.Phi[1]) }

// Holds tells whether a frame is in a box.
func (b Box) Holds(f Frame) bool {
	return f.Read == None || b.Reads(int(f.Read)) && b.Ends(int(f.Phi))
}

// Axis is one of the two ways in which a box may be cut.
type Axis int

const (
	byRead Axis = iota
	byEnd
	Axes
)

// Days gives the days of a box along an axis.
func (b *Box) Days(by Axis) *[2]Day {
	if by == byEnd {
		return &b.Phi
	}
	return &b.Read
}

// Day gives the day of a frame along an axis.
func (f Frame) Day(by Axis) Day {
	if by == byEnd {
		return f.Phi
	}
	return f.Read
}

// Frame is what the passages of a part have in common: the days of its
// listening, read-through and return to the recordings, and the last day of
// its first round, which the return comes after. A day is none when the stage is left out (or not wanted),
// before when it was done earlier.
type Frame struct {
	Listen, Read, Rec, Phi Day
}

// Package instance is a season in numbers, and plans of it: what is asked (Instance), a plan being
// built (Solution), what it costs in each wish (Score), what is minimised (Objective), and what was
// proven (Bounds). Nothing here chooses a day.
package instance

import (
	"cmp"
	"slices"

	"primaprova/model"
)

// Instance is a season in numbers: days counted from the season's first, all
// lengths in minutes. Nothing in it changes while solving.
type Instance struct {
	Season   *model.Season
	Days     int
	Step     int       // divides every length of playing ahead
	Today    int       // first day that may be planned
	Room     []DayRoom // by day
	Strain   *model.Strain
	weekOf   []int           // week of body.Weeks by day
	old      []bool          // by day: no passage has its first visit there; nil where there is no such day
	Fixed    []model.Minutes // playing minutes already spent on days before today
	Parts    []Part
	Passages []Passage // all parts' passages, part by part
}

// DayRoom is what a day leaves for planned work.
type DayRoom struct {
	Playing, Listening, Visits int
	Held                       int // planned work of both kinds that the free hours hold beside a warm-up
}

// None stands where a day would for something that is not placed.
const None = -1

// Before stands for a day earlier than any that can be planned.
const Before = -2

// Part is one part in numbers. Stage lengths are 0 for what is not wanted any
// more (done, or never asked for).
type Part struct {
	Work                             *model.PartWork
	Lo, Hi                           int   // days on which anything of the part may lie, hi the last
	WinLo, WinHi                     int   // days of listening, read-through and recordings
	RecLo                            int   // first day of the return to the recordings
	Listen, Read, Rec                int   // minutes; 0: not wanted
	ListenWorth, ReadWorth, RecWorth int   // worth when left out
	Meets                            []int // parts whose days meet this one's, itself included
	Nearest                          []int // itself, and of the others those that share the most days with it
	ReadDone                         bool
	First, Last                      int    // passages[first:last]
	Stand                            [3]int // standing day of listening, read-through, recordings; none
	Pin                              [3]int // pinned day; none
	Refused                          [3]int // day on which it may not lie, since it was not done there; none
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

// May tells whether a visit may lie on a day, room apart.
func (v *Visit) May(d int) bool {
	return (v.Pin == None || v.Pin == d) && (v.Barred == nil || !v.Barred[d])
}

// New states a season as an instance. The history and the standing plan may be
// nil.
func New(s *model.Season, h *model.History, standing *model.Plan) *Instance {
	p := &Instance{Season: s, Days: s.Days(), Strain: s.Strain()}
	if h != nil && h.Today > s.From {
		p.Today = min(int(h.Today-s.From), p.Days)
	}
	p.weekOf = make([]int, p.Days)
	for w, k := range p.Strain.Weeks {
		for d := k.First; d <= k.Last; d++ {
			p.weekOf[d] = w
		}
	}
	p.Fixed = make([]model.Minutes, p.Days)
	p.Room = make([]DayRoom, p.Days)
	for d := range p.Room {
		r := s.RoomOn(s.From + model.Date(d))
		p.Room[d] = DayRoom{int(r.Playing), int(r.Listening), r.Passages, max(0, int(r.Held-r.WarmUp))}
		if !r.New {
			if p.old == nil {
				p.old = make([]bool, p.Days)
			}
			p.old[d] = true
		}
		if d < p.Today {
			p.Room[d] = DayRoom{}
		}
	}
	p.DoneToday(s.Past(h, standing))
	at := standingDays(s, standing, p.Today)
	pins := map[string]int{}
	for _, pin := range s.Pins {
		if d := int(pin.Date - s.From); d >= p.Today {
			pins[pin.Session] = d // one of a day gone by holds nothing any more
		}
	}
	var refused map[string]bool
	if h != nil {
		p.spent(h)
		refused = h.Refused
	}
	work := s.Work(h)
	for i := range work {
		p.addPart(&work[i], at, pins, refused)
	}
	p.Step = p.divisor()
	for d := range p.Room {
		r := &p.Room[d]
		r.Playing -= r.Playing % p.Step // what no sum of lengths can fill
	}
	p.Meet()
	return p
}

// divisor gives the greatest length that divides every length of playing ahead,
// at least 1.
func (p *Instance) divisor() int {
	by := 0
	divide := func(n int) {
		for n > 0 {
			by, n = n, by%n
		}
	}
	for i := range p.Parts {
		divide(p.Parts[i].Read)
	}
	for i := range p.Passages {
		for _, v := range p.Passages[i].Visits {
			divide(v.Minutes)
		}
	}
	return max(1, by)
}

// closest is how many parts at most a part is close to.
const closest = 16

// Meet lists for each part the parts whose days meet its own, itself included, and of
// these the close ones: of dozens of programmes at hand at once, only some are worth
// looking at together.
func (p *Instance) Meet() {
	for i := range p.Parts {
		q := &p.Parts[i]
		for k := range p.Parts {
			if o := &p.Parts[k]; o.Lo <= q.Hi && q.Lo <= o.Hi {
				q.Meets = append(q.Meets, k)
			}
		}
		shared := func(k int) int {
			if k == i {
				return p.Days
			}
			return min(q.Hi, p.Parts[k].Hi) - max(q.Lo, p.Parts[k].Lo)
		}
		q.Nearest = slices.Clone(q.Meets)
		slices.SortStableFunc(q.Nearest, func(a, b int) int { return cmp.Compare(shared(b), shared(a)) })
		q.Nearest = q.Nearest[:min(closest, len(q.Nearest))]
	}
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

func dayOf(m map[string]int, id string) int {
	if d, ok := m[id]; ok {
		return d
	}
	return None
}

func (p *Instance) addPart(w *model.PartWork, at, pins map[string]int, refused map[string]bool) {
	from, h := p.Season.From, &p.Season.Habits
	q := Part{Work: w, First: len(p.Passages)}
	q.WinLo = max(int(w.Window.From-from), p.Today)
	q.WinHi = int(w.Window.To - from)
	q.RecLo = max(q.WinLo, q.WinHi+1-h.LastDays)
	if w.Read != 0 {
		q.RecLo = max(q.RecLo, int(w.Read-from)+1) // the read-through may have been today
	}
	q.Lo, q.Hi = q.WinLo, q.WinHi
	q.ListenWorth = h.StageWorth(model.ListeningStage, w.Part.Listening)
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
	if w.Listened == 0 && !w.Over {
		q.Listen = int(w.Part.Listening)
	}
	if !q.ReadDone && !w.Over {
		q.Read = int(w.Part.ReadThrough)
	}
	if w.Recorded == 0 && !w.Over {
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
	p.Parts = append(p.Parts, q)
}

// Stages lists the stages of a part in the order of part.stand and part.pin.
var Stages = [3]model.Stage{model.ListeningStage, model.ReadStage, model.RecordingsStage}

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

// spent notes the playing minutes of the past, for the week's rise and the
// pair of days that touch today.
func (p *Instance) spent(h *model.History) {
	for d, m := range h.Played {
		if i := int(d - p.Season.From); i >= 0 && i < p.Today {
			p.Fixed[i] = m
		}
	}
}

// DoneToday takes what was done today already off what the day has room for. What
// has hours keeps them, so that the rest has to fit beside it.
func (p *Instance) DoneToday(past []model.Session) {
	var done []*model.Session
	warm := p.Season.Limits.WarmUp
	for i := range past {
		v := &past[i]
		if int(v.Date-p.Season.From) != p.Today || p.Today >= p.Days {
			continue
		}
		done = append(done, v)
		if v.Stage.Playing() {
			warm = 0
		}
	}
	if len(done) == 0 {
		return
	}
	beside := int(p.Season.HeldBeside(p.Season.From+model.Date(p.Today), done) - warm)
	for _, v := range done {
		if v.Stage == model.WarmUpStage {
			continue
		}
		r, m := &p.Room[p.Today], int(v.Minutes)
		switch v.Stage {
		case model.ListeningStage, model.RecordingsStage:
			r.Listening = max(0, r.Listening-m)
		case model.PassageStage:
			r.Visits = max(0, r.Visits-1)
			fallthrough
		default:
			r.Playing = max(0, r.Playing-m)
		}
		r.Held -= m
		if v.Start == nil {
			beside -= m
		}
	}
	r := &p.Room[p.Today]
	r.Held = max(0, min(r.Held, beside))
}

// Worth gives the worth of the visits from k on.
func (q *Passage) Worth(k int) int {
	sum := 0
	for _, v := range q.Visits[k:] {
		sum += v.Value
	}
	return sum
}

// Moved gives the closeness cost of placing on day d what stood on day s.
func (p *Instance) Moved(s, d int) int {
	if s == None {
		return 0
	}
	from := p.Season.From
	return model.MoveCost(from+model.Date(s), from+model.Date(d), from+model.Date(p.Today))
}

// Allowed tells whether a stage may lie on a day as far as pins go, and what was
// refused there.
func (q *Part) Allowed(stage, d int) bool {
	return (q.Pin[stage] == None || q.Pin[stage] == d) && q.Refused[stage] != d
}

package solver

import (
	"cmp"
	"slices"

	"primaprova/model"
)

// problem is a season in numbers: days counted from the season's first, all
// lengths in minutes. Nothing in it changes while solving.
type problem struct {
	season   *model.Season
	days     int
	step     int       // divides every length of playing ahead
	today    int       // first day that may be planned
	room     []dayRoom // by day
	strain   *model.Strain
	weekOf   []int           // week of body.Weeks by day
	old      []bool          // by day: no passage has its first visit there; nil where there is no such day
	fixed    []model.Minutes // playing minutes already spent on days before today
	parts    []part
	passages []passage // all parts' passages, part by part
}

// dayRoom is what a day leaves for planned work.
type dayRoom struct {
	playing, listening, visits int
	held                       int // planned work of both kinds that the free hours hold beside a warm-up
}

// none stands where a day would for something that is not placed.
const none = -1

// before stands for a day earlier than any that can be planned.
const before = -2

// part is one part in numbers. Stage lengths are 0 for what is not wanted any
// more (done, or never asked for).
type part struct {
	work                 *model.PartWork
	lo, hi               int   // days on which anything of the part may lie, hi the last
	winLo, winHi         int   // days of listening, read-through and recordings
	recLo                int   // first day of the return to the recordings
	listen, read, rec    int   // minutes; 0: not wanted
	listenV, readV, recV int   // worth when left out
	meets                []int // parts whose days meet this one's, itself included
	close                []int // itself, and of the others those that share the most days with it
	readDone             bool
	first, last          int    // passages[first:last]
	stand                [3]int // standing day of listening, read-through, recordings; none
	pin                  [3]int // pinned day; none
	refused              [3]int // day on which it may not lie, since it was not done there; none
}

// passage is one passage in numbers: the visits that lie ahead.
type passage struct {
	work    *model.PassageWork
	part    int
	done    int // visits done before
	visits  []visit
	lo, hi  int  // days on which a visit may lie
	ready   int  // a last visit after this day is late
	fresh   int  // a last visit before this day is too early
	since   int  // day of the last visit done; before when none
	inRound bool // first visit lies ahead and belongs to the first round
	third   int  // index in visits of the third visit bound by the first round; none
}

// visit is one visit that lies ahead.
type visit struct {
	minutes, least, preferred, value int
	stand                            int    // its day in the standing plan; none
	pin                              int    // its pinned day; none
	barred                           []bool // by day, where some days bar it beside those without room; may be nil
}

// may tells whether a visit may lie on a day, room apart.
func (v *visit) may(d int) bool {
	return (v.pin == none || v.pin == d) && (v.barred == nil || !v.barred[d])
}

// build states a season as a problem. The history and the standing plan may be
// nil.
func build(s *model.Season, h *model.History, standing *model.Plan) *problem {
	p := &problem{season: s, days: s.Days(), strain: s.Strain()}
	if h != nil && h.Today > s.From {
		p.today = min(int(h.Today-s.From), p.days)
	}
	p.weekOf = make([]int, p.days)
	for w, k := range p.strain.Weeks {
		for d := k.First; d <= k.Last; d++ {
			p.weekOf[d] = w
		}
	}
	p.fixed = make([]model.Minutes, p.days)
	p.room = make([]dayRoom, p.days)
	for d := range p.room {
		r := s.RoomOn(s.From + model.Date(d))
		p.room[d] = dayRoom{int(r.Playing), int(r.Listening), r.Passages, max(0, int(r.Held-r.WarmUp))}
		if !r.New {
			if p.old == nil {
				p.old = make([]bool, p.days)
			}
			p.old[d] = true
		}
		if d < p.today {
			p.room[d] = dayRoom{}
		}
	}
	p.doneToday(s.Past(h, standing))
	at := standingDays(s, standing, p.today)
	pins := map[string]int{}
	for _, pin := range s.Pins {
		if d := int(pin.Date - s.From); d >= p.today {
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
	p.step = p.divisor()
	for d := range p.room {
		r := &p.room[d]
		r.playing -= r.playing % p.step // what no sum of lengths can fill
	}
	p.meet()
	return p
}

// divisor gives the greatest length that divides every length of playing ahead,
// at least 1.
func (p *problem) divisor() int {
	by := 0
	divide := func(n int) {
		for n > 0 {
			by, n = n, by%n
		}
	}
	for i := range p.parts {
		divide(p.parts[i].read)
	}
	for i := range p.passages {
		for _, v := range p.passages[i].visits {
			divide(v.minutes)
		}
	}
	return max(1, by)
}

// closest is how many parts at most a part is close to.
const closest = 16

// meet lists for each part the parts whose days meet its own, itself included, and of
// these the close ones: of dozens of programmes at hand at once, only some are worth
// looking at together.
func (p *problem) meet() {
	for i := range p.parts {
		q := &p.parts[i]
		for k := range p.parts {
			if o := &p.parts[k]; o.lo <= q.hi && q.lo <= o.hi {
				q.meets = append(q.meets, k)
			}
		}
		shared := func(k int) int {
			if k == i {
				return p.days
			}
			return min(q.hi, p.parts[k].hi) - max(q.lo, p.parts[k].lo)
		}
		q.close = slices.Clone(q.meets)
		slices.SortStableFunc(q.close, func(a, b int) int { return cmp.Compare(shared(b), shared(a)) })
		q.close = q.close[:min(closest, len(q.close))]
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
	return none
}

func (p *problem) addPart(w *model.PartWork, at, pins map[string]int, refused map[string]bool) {
	from, h := p.season.From, &p.season.Habits
	q := part{work: w, first: len(p.passages)}
	q.winLo = max(int(w.Window.From-from), p.today)
	q.winHi = int(w.Window.To - from)
	q.recLo = max(q.winLo, q.winHi+1-h.LastDays)
	if w.Read != 0 {
		q.recLo = max(q.recLo, int(w.Read-from)+1) // the read-through may have been today
	}
	q.lo, q.hi = q.winLo, q.winHi
	q.listenV = h.StageWorth(model.ListeningStage, w.Part.Listening)
	q.readV = h.StageWorth(model.ReadStage, w.Part.ReadThrough)
	q.recV = h.StageWorth(model.RecordingsStage, w.Part.Recordings)
	for i, st := range stages {
		id := model.StageID(w.Name, st)
		q.stand[i], q.pin[i], q.refused[i] = dayOf(at, id), dayOf(pins, id), none
		if refused[id] {
			q.refused[i] = p.today
		}
	}
	q.readDone = w.Read != 0
	if w.Listened == 0 && !w.Over {
		q.listen = int(w.Part.Listening)
	}
	if !q.readDone && !w.Over {
		q.read = int(w.Part.ReadThrough)
	}
	if w.Recorded == 0 && !w.Over {
		q.rec = int(w.Part.Recordings)
	}
	for i := range w.Passages {
		pw := &w.Passages[i]
		if len(pw.Done) >= len(pw.Recipe) || pw.Over {
			continue
		}
		p.passages = append(p.passages, p.passage(len(p.parts), w, pw, at, pins))
		if v := &p.passages[len(p.passages)-1]; refused[pw.Name] {
			v.lo = max(v.lo, p.today+1)
		}
		q.hi = max(q.hi, p.passages[len(p.passages)-1].hi)
	}
	q.last = len(p.passages)
	p.parts = append(p.parts, q)
}

// stages lists the stages of a part in the order of part.stand and part.pin.
var stages = [3]model.Stage{model.ListeningStage, model.ReadStage, model.RecordingsStage}

func (p *problem) passage(part int, w *model.PartWork, pw *model.PassageWork, at, pins map[string]int) passage {
	from := p.season.From
	q := passage{work: pw, part: part, done: len(pw.Done), since: before, third: none}
	q.lo = max(int(max(w.Part.Arrives, pw.Passage.Found, from)-from), p.today)
	q.hi = int(pw.Deadline-from) - 1
	q.ready, q.fresh = int(pw.Ready-from), int(pw.Fresh-from)
	if q.done > 0 {
		q.since = int(pw.Done[q.done-1] - from)
	} else if w.Read != 0 {
		q.lo = max(q.lo, int(w.Read-from)+1)
	}
	q.inRound = pw.Passage.Found == 0 && q.done == 0
	if t := 2 - q.done; t >= 0 && t < len(pw.Recipe)-q.done {
		q.third = t
	}
	for k, v := range pw.Recipe[q.done:] {
		id := model.VisitID(pw.Name, q.done+k+1)
		q.visits = append(q.visits, visit{int(v.Minutes), v.Least, v.Preferred, v.Value, dayOf(at, id), dayOf(pins, id), nil})
	}
	if q.done == 0 && len(q.visits) > 0 {
		q.visits[0].barred = p.old
	}
	return q
}

// spent notes the playing minutes of the past, for the week's rise and the
// pair of days that touch today.
func (p *problem) spent(h *model.History) {
	for d, m := range h.Played {
		if i := int(d - p.season.From); i >= 0 && i < p.today {
			p.fixed[i] = m
		}
	}
}

// doneToday takes what was done today already off what the day has room for. What
// has hours keeps them, so that the rest has to fit beside it.
func (p *problem) doneToday(past []model.Session) {
	var done []*model.Session
	warm := p.season.Limits.WarmUp
	for i := range past {
		v := &past[i]
		if int(v.Date-p.season.From) != p.today || p.today >= p.days {
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
	beside := int(p.season.HeldBeside(p.season.From+model.Date(p.today), done) - warm)
	for _, v := range done {
		if v.Stage == model.WarmUpStage {
			continue
		}
		r, m := &p.room[p.today], int(v.Minutes)
		switch v.Stage {
		case model.ListeningStage, model.RecordingsStage:
			r.listening = max(0, r.listening-m)
		case model.PassageStage:
			r.visits = max(0, r.visits-1)
			fallthrough
		default:
			r.playing = max(0, r.playing-m)
		}
		r.held -= m
		if v.Start == nil {
			beside -= m
		}
	}
	r := &p.room[p.today]
	r.held = max(0, min(r.held, beside))
}

// worth gives the worth of the visits from k on.
func (q *passage) worth(k int) int {
	sum := 0
	for _, v := range q.visits[k:] {
		sum += v.value
	}
	return sum
}

// moved gives the closeness cost of placing on day d what stood on day s.
func (p *problem) moved(s, d int) int {
	if s == none {
		return 0
	}
	from := p.season.From
	return model.MoveCost(from+model.Date(s), from+model.Date(d), from+model.Date(p.today))
}

// allowed tells whether a stage may lie on a day as far as pins go, and what was
// refused there.
func (q *part) allowed(stage, d int) bool {
	return (q.pin[stage] == none || q.pin[stage] == d) && q.refused[stage] != d
}

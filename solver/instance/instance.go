// Package instance is a season in numbers, and plans of it: what is asked (Instance), a plan being
// built (Solution), what it costs in each wish (Score), what is minimised (Objective), and what was
// proven (Bounds). Nothing here chooses a day.
//
// A day that something lies on is a Day, so that minutes and positions can't take its place. Parts,
// passages and visits are ints, since they are what range gives: as types of their own they would be
// converted in each loop, and a wrong one is found by the audit, which knows them by name.
package instance

import (
	"cmp"
	"slices"

	"primaprova/model"
	"primaprova/solver/run"
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
	before   []Day           // by day: the one before it that is no day off; nil where nothing is heard in several sittings
	old      []bool          // by day: no passage has its first visit there; nil where there is no such day
	Fixed    []model.Minutes // playing minutes already spent on days before today
	Parts    []Part
	Passages []Passage   // all parts' passages, part by part
	Params   *run.Params // how it is worked at
}

// DayRoom is what a day leaves for planned work.
type DayRoom struct {
	Playing, Listening, Visits int
	Held                       int // planned work of both kinds that the free hours hold beside a warm-up
}

// Day is a day of a plan: counted from the season's first, or None, or Before. An int is a day
// where it indexes what is held by day, or bounds a run of them.
type Day int16

// None stands where a day would for something that is not placed.
const None = -1

// Before stands for a day earlier than any that can be planned.
const Before = -2

// New states a season as an instance. The history and the standing plan may be
// nil.
func New(s *model.Season, h *model.History, standing *model.Plan) *Instance {
	p := &Instance{Season: s, Days: s.Days(), Strain: s.Strain(), Params: &run.Tuned}
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

// Moved gives the closeness cost of placing on day d what stood on day s.
func (p *Instance) Moved(s, d int) int {
	if s == None {
		return 0
	}
	from := p.Season.From
	return model.MoveCost(from+model.Date(s), from+model.Date(d), from+model.Date(p.Today))
}

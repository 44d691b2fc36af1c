package chance

import (
	"cmp"
	"slices"

	"primaprova/model"
)

// table is a season and a plan in numbers: days counted from the season's first.
// Nothing in it changes from run to run.
type table struct {
	from   model.Date
	days   int
	today  int
	room   []dayRoom
	kinds  []model.Spread // by kind
	wanted []work         // everything that luck is drawn for, in an order that no plan changes
	tasks  []task
	parts  []partOf
	byDay  [][]int // tasks by the day on which they are taken up
	rank   []int   // by task: its place when what is due first goes first
	slots  int
	lost   float64
	exact  bool
	seed   uint64
}

// dayRoom is what a day leaves for planned work.
type dayRoom struct {
	playing, listening, held float64
	visits                   int
	opens                    bool // takes first visits
}

// work is a wanted session as luck sees it.
type work struct {
	kind    int
	minutes float64
	task    int // none where the plan leaves it out
}

// none stands where there is no task.
const none = -1

// task is one planned session that lies ahead.
type task struct {
	part    int
	stage   model.Stage
	of      string // passage, or part
	slot    int    // tasks of one passage have one slot, a part's read-through another
	planned int
	due     int // first day that is too late
	after   int // task that has to be done before; none
	least   int // days between the two
	since   int // day before which it can't be for what was done already
	visit   int // of the recipe, from 1; 0 for stages
	first   bool
	third   bool // waits for the first round
}

// partOf is what a part has to do with it.
type partOf struct {
	name    string
	due     int
	played  []int // its read-through and visits
	round   int   // first visits of the first round that lie ahead
	leftOut int
}

func newTable(s *model.Season, h *model.History, p *model.Plan, o *Options) *table {
	guess := o.Guess
	if guess == nil {
		g := GuessOf(s, h)
		guess = &g
	}
	t := &table{from: s.From, days: s.Days(), seed: o.Seed, lost: guess.Lost, exact: o.Change.Exact}
	if o.Change.NoLost {
		t.lost = 0
	}
	if h != nil && h.Today > s.From {
		t.today = min(int(h.Today-s.From), t.days)
	}
	kinds := map[model.Effort]int{}
	for i, e := range model.Efforts() {
		kinds[e] = i
		t.kinds = append(t.kinds, guess.Kinds[e])
	}
	t.rooms(s, h, p, o.Change.More)
	planned := map[string]*model.Session{}
	for i := range p.Sessions {
		planned[p.Sessions[i].ID] = &p.Sessions[i]
	}
	all := s.Work(h)
	wanted := s.Wanted(h)
	for i := range all {
		n := len(t.parts)
		w := &all[i]
		t.parts = append(t.parts, partOf{name: w.Name, due: int(w.Programme.FirstRehearsal() - s.From)})
		for len(wanted) > 0 && wanted[0].Part == w.Name {
			hard := 0
			if wanted[0].Stage == model.PassageStage {
				hard = passage(w, wanted[0].Passage).Passage.Hard
			}
			v := work{kind: kinds[model.Effort{Stage: wanted[0].Stage, Hard: hard}], minutes: float64(wanted[0].Minutes), task: none}
			if q := planned[wanted[0].ID]; q != nil {
				v.task = len(t.tasks)
				v.minutes = float64(q.Minutes)
				t.add(n, w, &wanted[0], q, o.Change.Earlier[w.Name])
			} else {
				t.parts[n].leftOut++
			}
			t.wanted = append(t.wanted, v)
			wanted = wanted[1:]
		}
		t.link(n, w, &s.Habits)
	}
	t.order(p)
	return t
}

// rooms fills in what the days leave, what was done today already taken off.
func (t *table) rooms(s *model.Season, h *model.History, p *model.Plan, more map[model.Date]model.Minutes) {
	for d := range t.days {
		r := s.RoomOn(s.From + model.Date(d))
		playing, held := r.Playing, max(0, r.Held-r.WarmUp)
		if !r.Rest {
			over := max(0, r.Services+r.WarmUp-r.Cap) // what services take beyond the cap comes off first
			playing += max(0, more[r.Date]-over)
		}
		t.room = append(t.room, dayRoom{float64(playing), float64(r.Listening), float64(held), r.Passages, r.New})
	}
	if h == nil || t.today >= t.days {
		return
	}
	r := &t.room[t.today]
	for _, v := range s.Past(h, p) {
		if v.Date != h.Today || v.Stage == model.WarmUpStage {
			continue
		}
		m := float64(v.Minutes)
		switch {
		case !v.Stage.Playing():
			r.listening = max(0, r.listening-m)
		default:
			r.playing = max(0, r.playing-m)
		}
		if v.Stage == model.PassageStage {
			r.visits = max(0, r.visits-1)
		}
		r.held = max(0, r.held-m)
	}
}

func (t *table) add(part int, w *model.PartWork, want *model.Wanted, q *model.Session, earlier int) {
	p := &t.parts[part]
	v := task{part: part, stage: want.Stage, of: want.Part, planned: int(q.Date - t.from), due: min(p.due, t.days), after: none, visit: want.Visit}
	start := max(t.today, int(w.Part.Arrives-t.from))
	switch want.Stage {
	case model.PassageStage:
		q := passage(w, want.Passage)
		v.of, v.due = want.Passage, int(q.Deadline-t.from)
		start = max(start, int(q.Passage.Found-t.from))
		known := q.Passage.Found == 0
		v.first, v.third = known && v.visit == 1, known && v.visit == 3
		if v.first {
			p.round++
		}
	case model.RecordingsStage:
		v.of = "" // nothing waits for it
	}
	v.planned = max(v.planned-earlier, start)
	if v.stage.Playing() {
		if k := len(p.played); k == 0 || t.tasks[p.played[k-1]].of != v.of {
			t.slots++
		}
		v.slot = t.slots - 1
		p.played = append(p.played, len(t.tasks))
	}
	t.tasks = append(t.tasks, v)
}

// link says of each task of a part what it has to wait for.
func (t *table) link(part int, w *model.PartWork, habits *model.Habits) {
	listening, read, before := none, none, none
	never := t.days // what follows from a session that an older plan doesn't hold
	afterRead := func(v *task) {
		v.after, v.least, v.since = read, 1, t.afterDone(w.Read, 1)
		if read == none && w.Read == 0 {
			v.since = never
		}
	}
	for k := range t.tasks {
		v := &t.tasks[k]
		if v.part != part {
			continue
		}
		switch v.stage {
		case model.ListeningStage:
			listening = k
		case model.ReadStage:
			v.after, read = listening, k // the same day will do
		case model.RecordingsStage:
			afterRead(v)
			v.since = max(v.since, int(w.RecordingDays(habits).From-t.from))
		case model.PassageStage:
			q := passage(w, v.of)
			switch done := len(q.Done); {
			case v.visit == 1:
				afterRead(v)
			case v.visit == done+1:
				v.since = t.afterDone(q.Done[done-1], q.Recipe[v.visit-1].Least)
			case before == none || t.tasks[before].of != v.of || t.tasks[before].visit != v.visit-1:
				v.since = never
			default:
				v.after, v.least = before, q.Recipe[v.visit-1].Least
			}
			before = k
		}
	}
}

func passage(w *model.PartWork, name string) *model.PassageWork {
	for i := range w.Passages {
		if w.Passages[i].Name == name {
			return &w.Passages[i]
		}
	}
	return nil
}

// afterDone gives the first day so many days after one on which something was
// done; 0 where it was not.
func (t *table) afterDone(d model.Date, days int) int {
	if d == 0 {
		return 0
	}
	return int(d-t.from) + days
}

// order puts the tasks on their days, and what is due first first.
func (t *table) order(p *model.Plan) {
	at := map[string]int{} // a day's sessions in the order in which they are played
	for _, day := range p.ByDate() {
		for i, v := range day {
			at[v.ID] = i
		}
	}
	ids := make([]string, len(t.tasks))
	list := make([]int, len(t.tasks))
	for k := range t.tasks {
		v := &t.tasks[k]
		list[k] = k
		name := v.of
		if v.stage == model.PassageStage {
			ids[k] = model.VisitID(name, v.visit)
		} else {
			ids[k] = model.StageID(t.parts[v.part].name, v.stage)
		}
	}
	slices.SortStableFunc(list, func(a, b int) int {
		x, y := &t.tasks[a], &t.tasks[b]
		return cmp.Or(cmp.Compare(x.due, y.due), cmp.Compare(x.planned, y.planned), cmp.Compare(at[ids[a]], at[ids[b]]))
	})
	t.rank = make([]int, len(t.tasks))
	t.byDay = make([][]int, t.days)
	for i, k := range list {
		t.rank[k] = i
		if d := t.tasks[k].planned; d < t.days {
			t.byDay[d] = append(t.byDay[d], k)
		}
	}
}

package chance

import "primaprova/model"

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
	last    int   // due day of what is due last of it, upkeep aside
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
		t.parts = append(t.parts, partOf{name: w.Name, due: int(w.Due - s.From), last: int(w.Due - s.From)})
		for len(wanted) > 0 && wanted[0].Part == w.Name {
			hard := 0
			if wanted[0].Stage == model.PassageStage {
				hard = w.Passage(wanted[0].Passage).Passage.Hard
			}
			v := work{kind: kinds[model.Effort{Stage: wanted[0].Stage, Hard: hard}], minutes: float64(wanted[0].Minutes), task: none}
			if q := planned[wanted[0].ID]; q != nil {
				v.task = len(t.tasks)
				v.minutes = float64(q.Minutes)
				t.add(n, w, &s.Habits, &wanted[0], q, o.Change.Earlier[w.Name])
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

// add enters one planned session of a part.
func (t *table) add(part int, w *model.PartWork, habits *model.Habits, want *model.Wanted, q *model.Session, earlier int) {
	p := &t.parts[part]
	v := task{part: part, stage: want.Stage, of: want.Part, planned: int(q.Date - t.from), due: min(p.due, t.days), after: none, visit: want.Visit}
	start, counts := max(t.today, int(w.Part.Arrives-t.from)), v.stage.Playing()
	switch want.Stage {
	case model.PassageStage:
		q := w.Passage(want.Passage)
		v.of, v.due = want.Passage, int(q.Deadline-t.from)
		start = max(start, int(q.Passage.Found-t.from))
		if counts = !q.Passage.Upkeep; counts { // no part is the less ready without it
			p.last = max(p.last, v.due)
		}
		v.first, v.third = q.Passage.Found == 0 && v.visit == 1, v.visit == 3
		if v.first {
			p.round++
		}
	case model.RecordingsStage:
		v.of, v.third = "", true // nothing waits for it
		v.due = min(int(w.RecordingDays(habits).To+1-t.from), t.days)
	}
	v.planned = max(v.planned-earlier, start)
	if counts {
		if k := len(p.played); k == 0 || t.tasks[p.played[k-1]].of != v.of {
			t.slots++
		}
		v.slot = t.slots - 1
		p.played = append(p.played, len(t.tasks))
	}
	t.tasks = append(t.tasks, v)
}

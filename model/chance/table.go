package chance

import "primaprova/model"

// table is a season and a plan in numbers: days counted from the season's first.
// Nothing in it changes from run to run.
type table struct {
	from     model.Date
	days     int
	today    int
	short    bool // least gaps are shorter where time is
	room     []dayRoom
	services []float64 // minutes of playing, by day
	warmUp   float64
	spells   spells
	kinds    []model.Spread // by kind
	wanted   []work         // everything that luck is drawn for, in an order that no plan changes
	tasks    []task
	passages []passageOf // those that may yet be found last, mostFound for each part
	unfound  int         // the first of those
	parts    []partOf
	byDay    [][]int // tasks by the day on which they are planned, what is due first first
	load     []load  // what is planned on each day
	slots    int
	found    [4][]visit // recipes of passages that are found, by difficulty
	guess    Guess
	stayed   bool // the day before the first was lost
	exact    bool
	seed     uint64
}

// work is a wanted session as luck sees it.
type work struct {
	kind    int
	minutes float64 // as the season file estimates it, whatever is planned
	task    int     // none where the plan leaves it out
}

// none stands where there is no task, day or passage.
const none = -1

// task is one planned session that lies ahead.
type task struct {
	part    int
	passage int // none for stages
	stage   model.Stage
	of      string // passage, or part
	slot    int    // tasks of one passage have one slot, a part's read-through another
	order   int    // its place when what is due first goes first
	planned int
	minutes float64 // that are planned for it
	value   float64 // of one of them
	due     int     // first day that is too late
	after   int     // task that has to be done before; none
	before  int     // day on which the visit before was done; never where there was none
	least   int     // days between the two
	next    int     // the visit after it; none
	since   int     // day before which it can't be for what was done already
	visit   int     // of the recipe, from 1; 0 for stages
	first   bool
	third   bool // waits for the first round
	check   bool // the last visit of its recipe
	counts  bool // its part is not ready without it
}

// never is a day long before all others.
const never = -1 << 20

// visit is one that is planned only when something happens.
type visit struct {
	minutes, planned float64 // by the estimate, and as the player plans it
	least            int
	value            float64
}

// passageOf is what is known of a passage.
type passageOf struct {
	part  int
	hard  int
	stand stand
	again []visit // what comes back when a check does not hold
	needs int     // visits but the last check, at least one
	asked bool    // it counts for its part
}

// stand is how far a passage is.
type stand struct {
	visits, failed int
	last           int // day of the last visit
}

// mostFound is how many passages a read-through finds at most.
const mostFound = 8

// partOf is what a part has to do with it.
type partOf struct {
	name    string
	due     int
	ready   int   // days before it is due by which a passage should be done
	comes   int   // day on which it is to come
	last    int   // due day of what is due last of it, upkeep aside
	played  []int // its read-through and visits
	firsts  []int // first visits of the first round that lie ahead
	awaited bool  // it is not there yet
	finds   bool  // its read-through may find passages that nobody estimated
	leftOut int
}

// newTable puts it all in numbers.
func newTable(s *model.Season, h *model.History, p *model.Plan, o *Options) *table {
	guess := o.Guess
	if guess == nil {
		g := GuessOf(s, h)
		guess = &g
	}
	t := &table{from: s.From, days: s.Days(), seed: o.Seed, guess: *guess, exact: o.Change.Exact, short: s.Habits.ShortGaps}
	if o.Change.NoLost {
		t.guess.Lost, t.guess.Stays = 0, 0
	}
	if o.Change.Exact {
		t.guess.Memory, t.guess.Found, t.guess.Late = nil, 0, 0
	}
	plain := h // by the estimates of the season file
	if h != nil {
		if h.Today > s.From {
			t.today = min(int(h.Today-s.From), t.days)
			t.stayed = h.Days[h.Today-1] == model.Lost
		}
		unscaled := *h
		unscaled.Scaled = false
		plain = &unscaled
	}
	kinds := map[model.Effort]int{}
	for i, e := range model.Efforts() {
		kinds[e] = i
		t.kinds = append(t.kinds, guess.Kinds[e])
	}
	t.rooms(s, h, p, o.Change.More)
	t.warmUp = float64(s.Limits.WarmUp)
	t.spells = t.newSpells(s, h)
	planned := map[string]*model.Session{}
	for i := range p.Sessions {
		planned[p.Sessions[i].ID] = &p.Sessions[i]
	}
	all, estimates := s.Work(h), s.Work(plain)
	wanted, exact := s.Wanted(h), map[string]model.Minutes{}
	for _, w := range s.Wanted(plain) {
		exact[w.ID] = w.Minutes
	}
	for i := range all {
		w := &all[i]
		n := t.part(s, h, w, &estimates[i])
		for len(wanted) > 0 && wanted[0].Part == w.Name {
			want := &wanted[0]
			hard := 0
			if want.Stage == model.PassageStage {
				hard = w.Passage(want.Passage).Passage.Hard
			}
			v := work{kind: kinds[model.Effort{Stage: want.Stage, Hard: hard}], minutes: float64(exact[want.ID]), task: none}
			if q := planned[want.ID]; q != nil && !o.Change.Without[want.ID] {
				v.task = len(t.tasks)
				t.add(n, w, &s.Habits, want, q)
			} else {
				t.parts[n].leftOut++
			}
			t.wanted = append(t.wanted, v)
			wanted = wanted[1:]
		}
		t.link(n, w, &s.Habits)
	}
	t.mayFind(s, h)
	t.order(p)
	return t
}

// add enters one planned session of a part.
func (t *table) add(part int, w *model.PartWork, habits *model.Habits, want *model.Wanted, q *model.Session) {
	p := &t.parts[part]
	v := task{part: part, passage: none, stage: want.Stage, of: want.Part, planned: int(q.Date - t.from), due: min(p.due, t.days),
		minutes: float64(q.Minutes), value: worth(want.Value, want.Minutes), after: none, before: never, next: none, visit: want.Visit}
	start := max(t.today, int(w.Part.Arrives-t.from))
	v.counts = v.stage.Playing()
	switch want.Stage {
	case model.PassageStage:
		q := w.Passage(want.Passage)
		v.of, v.due, v.passage = want.Passage, int(q.Deadline-t.from), t.passage(part, w, want.Passage)
		start = max(start, int(q.Passage.Found-t.from))
		if v.counts = !q.Passage.Upkeep; v.counts { // no part is the less ready without it
			p.last = max(p.last, v.due)
			v.check = want.Visit == want.Visits
		}
		v.first, v.third = q.Passage.Found == 0 && v.visit == 1, v.visit == 3
		if v.first {
			p.firsts = append(p.firsts, len(t.tasks))
		}
	case model.RecordingsStage:
		v.of, v.third = "", true // nothing waits for it
		v.due = min(int(w.RecordingDays(habits).To+1-t.from), t.days)
	}
	v.planned = max(v.planned, start)
	if v.counts {
		if k := len(p.played); k == 0 || t.tasks[p.played[k-1]].of != v.of {
			t.slots++
		}
		v.slot = t.slots - 1
		p.played = append(p.played, len(t.tasks))
	}
	t.tasks = append(t.tasks, v)
}

package model

// Wish is one of the things a plan is measured by once it keeps every rule.
// They count in their order: a lower one costs a higher one no more than its
// Tolerance, nothing where it has none.
type Wish int

// The wishes, highest first.
const (
	Coverage Wish = iota
	ReadyBy
	Closeness
	Body
	Spacing
	wishes
)

// Wishes lists them in their order.
var Wishes = [wishes]Wish{Coverage, ReadyBy, Closeness, Body, Spacing}

var wishTable = [wishes]struct{ name, unit string }{
	Coverage:  {"coverage", "points"},       // the value of the sessions left out
	ReadyBy:   {"ready-by", "passage-days"}, // days by which passages are finished after the ready-by date
	Closeness: {"closeness", "visit-days"},  // days by which sessions move from the standing plan, three more for each that moves, near days weighing more
	Body:      {"body", "minutes"},          // minutes of heavy days, of two heavy days running and of sudden rises from week to week
	Spacing:   {"spacing", "days"},          // days by which visits come later than preferred or passages are finished too early
}

// String gives the wish's name, as plan files carry it.
func (w Wish) String() string { return wishTable[w].name }

// Unit gives what the wish is counted in.
func (w Wish) Unit() string { return wishTable[w].unit }

// Measures holds a plan's value of each wish, indexed by Wish; 0 is best.
type Measures [wishes]float64

// Less tells whether m is better than o: smaller in the first wish, by their
// order, in which they differ. Values of one season compare exactly, because
// all are whole numbers but body, which is whole hundredths.
func (m Measures) Less(o Measures) bool {
	for w := range m {
		if m[w] != o[w] {
			return m[w] < o[w]
		}
	}
	return false
}

// Measure gives the wishes of a plan. Like the audit it looks at sessions from
// today on only; the body wish takes the playing of days gone by from the
// record, so that last week's load counts when this week's rise is measured.
// The history and the standing plan may be nil; without the latter nothing
// counts as moved.
//
// A wanted session that the plan does not hold counts as left out, whether or
// not the plan says so; in a plan that passes the audit the two are the same.
func (s *Season) Measure(p *Plan, h *History, standing *Plan) Measures {
	a := newAudit(s, p, h)
	var m Measures
	for i := range a.wanted {
		if a.placed[a.wanted[i].ID] == nil {
			m[Coverage] += float64(a.wanted[i].Value)
		}
	}
	for i := range a.work {
		for j := range a.work[i].Passages {
			late, spacing := a.passageWishes(&a.work[i].Passages[j])
			m[ReadyBy] += float64(late)
			m[Spacing] += float64(spacing)
		}
	}
	m[Closeness] = float64(a.closeness(standing))
	m[Body] = float64(s.Strain().Excess(a.burden(h))) / 100
	return m
}

// passageWishes gives the days a passage is finished late, and the days of its
// spacing:
//
//	late    = max(0, last − Ready)
//	spacing = Σ max(0, gap before visit k − Preferred(k)) + max(0, Fresh − last)
//
// over planned visits, a gap from a visit done included. Both are 0 where no
// visit is planned.
func (a *audit) passageWishes(w *PassageWork) (late, spacing Date) {
	var last Date
	any := false
	for k := len(w.Done); k < len(w.Recipe); k++ {
		v := a.placed[VisitID(w.Name, k+1)]
		if v == nil {
			continue
		}
		if !any || v.Date > last {
			any, last = true, v.Date
		}
		if before, ok := a.visitDay(w, k-1); ok {
			spacing += max(0, v.Date-before-Date(w.Recipe[k].Preferred))
		}
	}
	if !any {
		return 0, 0
	}
	return max(0, last-w.Ready), spacing + max(0, w.Fresh-last)
}

// movedAtAll is how many days it weighs that a session moves at all: it has to be
// noticed and written anew, however far it goes. Without it ten sessions moved by
// a day would be as good as one moved by ten.
const movedAtAll = 3

// MoveCost gives what it costs that a session is on another day than it stood on:
// weight·(days moved + 3), and nothing where it stays. The weight is 3 in the week
// from today on, 2 in the two weeks after it, 1 later: people have arranged their
// near days already.
func MoveCost(stood, now, today Date) int {
	days := int(max(now-stood, stood-now))
	if days == 0 {
		return 0
	}
	weight := 1
	switch {
	case stood < today+7:
		weight = 3
	case stood < today+21:
		weight = 2
	}
	return weight * (days + movedAtAll)
}

// closeness gives Σ MoveCost over the sessions that both plans hold, warm-ups apart:
// those follow the others.
func (a *audit) closeness(standing *Plan) int {
	if standing == nil {
		return 0
	}
	sum, today := 0, max(a.today, a.s.From)
	for i := range standing.Sessions {
		old := &standing.Sessions[i]
		if old.Date < today {
			continue
		}
		now := a.placed[old.ID]
		if now == nil {
			continue
		}
		sum += MoveCost(old.Date, now.Date, today)
	}
	return sum
}

// burden gives the playing that the body wish judges, by day of the season:
// planned from today on, what was really played before. What was done today
// already is no choice any more: it takes room, and weighs nothing here.
func (a *audit) burden(h *History) []Minutes {
	var ahead []Session
	for _, v := range a.p.Sessions {
		if (h == nil || v.Date >= a.today) && a.done[v.ID] != v.Date {
			ahead = append(ahead, v)
		}
	}
	out := a.s.planned(ahead)
	if h != nil {
		for d, m := range h.Played {
			if d < a.today && a.s.Holds(d) {
				out[d-a.s.From] = m
			}
		}
	}
	return out
}

// planned gives the sessions' playing, warm-ups apart, by day of the season.
// Sessions outside the season are the window rule's matter.
func (s *Season) planned(sessions []Session) []Minutes {
	out := make([]Minutes, s.Days())
	for i := range sessions {
		v := &sessions[i]
		if v.Stage.Playing() && v.Stage != WarmUpStage && s.Holds(v.Date) {
			out[v.Date-s.From] += v.Minutes
		}
	}
	return out
}

// Holds tells whether the date lies in the season.
func (s *Season) Holds(d Date) bool { return s.From <= d && d <= s.To }

package conflict

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"primaprova/model"
	"primaprova/solver/compact"
	"primaprova/solver/cpsat"
	"primaprova/solver/highs"
	"primaprova/solver/instance"
	"primaprova/solver/oracle"
	"primaprova/solver/run"
	"primaprova/solver/tiny"
)

// shortSeason is a tiny season in which everything is worth something, with its
// best plan.
func shortSeason(t testing.TB, seed int, z tiny.Size) (*tiny.Case, *model.Plan) {
	c := tiny.Draw(tiny.DieOf(seed), z)
	ruleOf(c, tiny.DieOf(seed+1_000_000))
	h := &c.Season.Habits
	h.VisitValues, h.ListenValue, h.ReadValue, h.RecordValue = []int{3, 2, 1}, 4, 6, 1
	p := c.Problem()
	st := solvedOutright(t, p)
	return c, st.Assemble(c.History, c.Standing)
}

// ruleOf gives a tiny season rules for days around services, after time off and
// after pain, and things that take of its hours.
func ruleOf(c *tiny.Case, roll tiny.Die) {
	s := c.Season
	l := &s.Limits
	some := func() model.Date { return s.From + model.Date(roll(s.Days())) }
	if roll.Once(4) {
		d := some()
		l.Tours = []model.Range{{From: d, To: d + model.Date(roll(2))}}
	}
	p := &s.Programmes[roll(len(s.Programmes))]
	if roll.Once(3) {
		l.BeforeConcert = 25 * roll(3)
		p.Services = append(p.Services, model.Service{Kind: model.Concert, Date: some(), Start: 1100, Lasts: 40, Playing: 25})
	}
	if roll.Once(3) {
		d := some()
		l.TwoServices = roll.Minutes(0, 1)
		p.Services = append(p.Services, model.Service{Kind: model.Concert, Date: d, Start: 1000, Lasts: 20, Playing: 0},
			model.Service{Kind: model.Concert, Date: d, Start: 1100, Lasts: 20, Playing: 25})
	}
	if s.HasHours() {
		free := s.Hours.Every[0]
		part := model.Span{From: free.From, To: free.From + model.Clock(5*roll.Between(1, 4))}
		switch roll(5) {
		case 0:
			l.Quiet.Every = []model.Span{part}
		case 1:
			l.Latest.Every = part.To
		case 2:
			s.Busy = []model.Busy{{Date: some(), Span: free}, {Date: some(), Span: part}}
			slices.SortFunc(s.Busy, func(a, b model.Busy) int { return int(a.Date - b.Date) })
		case 3:
			p.Services = append(p.Services, model.Service{Kind: model.Rehearsal, Date: some(), Start: free.To, Lasts: 20, Travel: 15})
		}
	}
	if h := c.History; h != nil && roll.Once(3) {
		h.Days = map[model.Date]model.DayNote{h.Today: model.Stopped}
		l.Light = 25 * roll(3)
		c.Season = s.With(h)
	}
}

// asking asks about the plan of a season, with its record.
func asking(t testing.TB, c *tiny.Case, plan *model.Plan) *Inquiry {
	t.Helper()
	q, err := Inquire(c.Season, run.Options{Engine: tiny.HiGHS(t), History: c.History, Standing: plan})
	if err != nil {
		t.Fatal(err)
	}
	return q
}

// TestReasonsAreSmallest: on hundreds of tiny seasons the facts of a reason
// let no plan place what was asked for, and without any one of them some plan
// does; by CP-SAT, which had no part in finding them.
func TestReasonsAreSmallest(t *testing.T) {
	library := tiny.CPSAT(t)
	forced, larger, kinds := 0, 0, map[FactKind]int{}
	for seed := range 400 {
		c, plan := shortSeason(t, seed, tiny.Size{Days: 10, Passages: 3, Visits: 3})
		parts, ids := tiny.LeftOf(plan)
		if len(parts) == 0 {
			continue
		}
		q := asking(t, c, plan)
		part := parts[seed%len(parts)]
		r, err := q.Why(context.Background(), ids[part])
		if err != nil {
			t.Fatalf("season %d: %v", seed, err)
		}
		if r.Outcome != Forced || r.Untried > 0 {
			t.Errorf("season %d: %s: %s, %d facts untried", seed, part, r.Outcome, r.Untried)
			continue
		}
		forced++
		if len(r.Facts) > 4 {
			larger++
		}
		if placeable(t, library, q, r, nil) {
			t.Errorf("season %d: %v can be placed in spite of %v", seed, r.Asked, r.Facts)
		}
		for i := range r.Facts {
			kinds[r.Facts[i].Kind]++
			if !placeable(t, library, q, r, &r.Facts[i]) {
				t.Errorf("season %d: without %v %v of %v still can't be placed", seed, r.Facts[i].Kind, r.Facts[i].Paths, r.Asked)
			}
		}
	}
	t.Logf("%d reasons, %d of more than four facts; %v", forced, larger, kinds)
	for _, k := range []FactKind{BeforeFact, TwoFact, ReturnFact, NewFact, ToursFact, LightFact} {
		if kinds[k] < 2 {
			t.Errorf("%d reasons with %s", kinds[k], k)
		}
	}
	if forced < 150 || larger < 30 {
		t.Error("too few seasons leave something out, or for reasons too simple")
	}
}

// placeable tells by CP-SAT whether the demand of a reason can be placed with
// only its facts, but for one.
func placeable(t *testing.T, l *cpsat.Library, q *Inquiry, r *Reason, but *Fact) bool {
	k := questionOf(q, r, but)
	p, ordered := k.without()
	w := compact.WriteDemand(p, ordered)
	if w == nil {
		return false
	}
	return tiny.Solvable(t, l, w.M)
}

// questionOf states a reason's facts as a question.
func questionOf(q *Inquiry, r *Reason, but *Fact) *question {
	ids := map[string]bool{}
	for _, id := range r.Asked {
		ids[id] = true
	}
	k := &question{Inquiry: q, c: oracle.DemandOf(q.p, q.placed, ids), asked: map[int]bool{}}
	for i := range q.p.Parts {
		if asks(q.p, i, ids) {
			k.asked[i] = true
		}
	}
	if r.Whole {
		k.c = k.everything()
	}
	s := q.p.Season
	all := model.Range{From: s.From + model.Date(q.p.Today), To: s.To}
	var caps []model.Range // as the reason has them, and the days between
	for d := all.From; d <= all.To; d++ {
		caps = append(caps, model.Range{From: d, To: d})
	}
	k.facts = facts(s, q.work, caps)
	k.in = make([]bool, len(k.facts))
	for n := range k.facts {
		f := &k.facts[n]
		k.in[n] = slices.ContainsFunc(r.Facts, func(x Fact) bool {
			if but != nil && x.key() == but.key() && x.Days == but.Days && x.weekday == but.weekday {
				return false
			}
			if x.Kind == CapFact && f.Kind == CapFact {
				return x.Days.From <= f.Days.From && f.Days.To <= x.Days.To
			}
			return x.Kind == f.Kind && x.key() == f.key() && (x.Kind == WorkFact || x.Days == f.Days && x.weekday == f.weekday)
		})
	}
	return k
}

// TestReasonsByAudit: the same by trying every plan there is, with the audit
// as the only judge of what a fact forbids.
func TestReasonsByAudit(t *testing.T) {
	tried := 0
	for seed := 0; tried < 40 && seed < 3000; seed++ {
		c, plan := shortSeason(t, 5000+seed, tiny.Size{Days: 6, Passages: 2, Visits: 2})
		parts, ids := tiny.LeftOf(plan)
		if len(parts) == 0 || c.Season.HasHours() || len(c.Season.Pins) > 0 ||
			math.Pow(float64(c.Season.Days()), float64(len(c.Season.Wanted(c.History)))) > 2e4 {
			continue // hours are kept by a sum that is on the safe side
		}
		q := asking(t, c, plan)
		r, err := q.Why(context.Background(), ids[parts[0]])
		if err != nil {
			t.Fatal(err)
		}
		if r.Outcome != Forced {
			t.Errorf("season %d: %s", seed, r.Outcome)
			continue
		}
		tried++
		if placedByTrying(c, q, r, -1) {
			t.Errorf("season %d: %v can be placed in spite of %v", seed, r.Asked, r.Facts)
		}
		for i := range r.Facts {
			if !placedByTrying(c, q, r, i) {
				t.Errorf("season %d: without %v %v still can't be placed", seed, r.Facts[i].Kind, r.Asked)
			}
		}
	}
	if tried < 40 {
		t.Errorf("only %d seasons", tried)
	}
}

// placedByTrying puts the sessions of a demand on all days and asks the audit
// whether a plan breaks no rule but those that rest on facts which are out.
func placedByTrying(c *tiny.Case, q *Inquiry, r *Reason, but int) bool {
	has := func(kind FactKind, match func(*Fact) bool) bool {
		for i := range r.Facts {
			if f := &r.Facts[i]; i != but && f.Kind == kind && (match == nil || match(f)) {
				return true
			}
		}
		return false
	}
	s := *c.Season
	l := &s.Limits
	if !has(WarmUpFact, nil) {
		l.WarmUp, l.WarmUpAgain = 0, 0
	}
	if !has(ListeningFact, nil) {
		l.Listening = model.NoLimit
	}
	if !has(PassagesFact, nil) {
		l.Passages = 1000
	}
	if !has(BeforeFact, nil) {
		l.BeforeConcert = 100
	}
	if !has(TwoFact, nil) {
		l.TwoServices = model.NoLimit
	}
	if !has(ReturnFact, nil) {
		l.Return.After, l.Backs = 0, backs(l, true)
	}
	l.NewOnConcerts = l.NewOnConcerts || !has(NewFact, nil)
	if !has(LightFact, nil) {
		l.Lights, l.Stopped, l.Backs = nil, nil, backs(l, false)
	}
	if !has(GapFact, nil) {
		s.Habits.LeastGaps = []int{1}
	}
	l.RestDays = slices.DeleteFunc(slices.Clone(l.RestDays), func(d time.Weekday) bool {
		return !has(RestFact, func(f *Fact) bool { w, weekly := f.Weekday(); return weekly && w == d })
	})
	kept := l.DaysOff
	l.DaysOff = nil
	for _, r := range kept {
		if has(OffFact, func(f *Fact) bool { return f.Days == r }) {
			l.DaysOff = append(l.DaysOff, r)
		}
	}
	tours := l.Tours
	l.Tours = nil
	for _, r := range tours {
		if has(ToursFact, func(f *Fact) bool { return f.Days == r }) {
			l.Tours = append(l.Tours, r)
		}
	}
	s.Programmes = slices.Clone(s.Programmes)
	for i := range s.Programmes {
		if !has(ServicesFact, func(f *Fact) bool { return f.programme == i }) {
			p := &s.Programmes[i]
			p.Services = slices.Clone(p.Services)
			for k := range p.Services {
				p.Services[k].Playing = 0
			}
		}
	}
	l.Playing.Dates = slices.Clone(l.Playing.Dates)
	for d := s.From; d <= s.To; d++ {
		if !has(CapFact, func(f *Fact) bool { return f.Days.Holds(d) }) {
			l.Playing.Dates = append(l.Playing.Dates, model.Dated[model.Minutes]{Range: model.Range{From: d, To: d}, Value: model.NoLimit})
		}
	}
	bidden := bidden(c, &s, q, r, has)
	work := map[string]*model.PartWork{}
	for i := range q.work {
		work[q.work[i].Name] = &q.work[i]
	}
	excused := func(b model.Breach) bool {
		part := partOf(b.Name, work)
		switch b.Rule {
		case model.AccountedRule, model.WarmUpRule:
			return true // warm-ups and what is left out are not the matter
		case model.OrderRule:
			return !has(OrderFact, nil) || !has(OnceFact, nil) && strings.Contains(b.Text, "after all first visits")
		case model.AllOnceRule:
			return !has(OnceFact, nil)
		case model.WindowRule:
			w := work[part]
			of := func(f *Fact) bool { return f.Part == part }
			own := false
			for i := range w.Passages {
				if p := &w.Passages[i]; strings.HasPrefix(b.Name, p.Name+"/") {
					own = p.Passage.Due != 0
					if b.Date < p.Passage.Found && has(FoundFact, of) {
						return false
					}
					if b.Date < p.Passage.Found && b.Date >= w.Window.From {
						return true
					}
				}
			}
			if b.Date < w.Window.From {
				return !has(ArrivalFact, of)
			}
			late := b.Date > w.Window.To
			return (!own || !has(DueFact, of)) && (!late || !has(RehearsalFact, func(f *Fact) bool {
				return &c.Season.Programmes[f.programme] == w.Programme
			}))
		}
		return false
	}
	today := s.From
	if c.History != nil {
		today = max(today, c.History.Today)
	}
	at := make([]model.Date, len(bidden))
	for i := range at {
		at[i] = today
	}
	for today <= s.To {
		plan := &model.Plan{Format: model.PlanFormat, From: s.From, To: s.To}
		for i, d := range at {
			plan.Sessions = append(plan.Sessions, bidden[i].On(d))
		}
		if !slices.ContainsFunc(s.Audit(plan, c.History), func(b model.Breach) bool { return !excused(b) }) {
			return true
		}
		i := 0
		for ; i < len(at); i++ {
			if at[i]++; at[i] <= s.To {
				break
			}
			at[i] = today
		}
		if i == len(at) {
			return false
		}
	}
	return len(bidden) == 0
}

// bidden gives the sessions that a reason's work facts ask for.
// Listening is asked for as the season without some facts has it: where its minutes
// are no matter, in one sitting.
func bidden(c *tiny.Case, s *model.Season, q *Inquiry, r *Reason, has func(FactKind, func(*Fact) bool) bool) (out []model.Wanted) {
	byID := map[string]model.Wanted{}
	for _, w := range c.Season.Wanted(c.History) {
		byID[w.ID] = w
	}
	listening := func(part string) (out []model.Wanted) {
		for _, w := range s.Wanted(c.History) {
			if w.Part == part && w.Stage == model.ListeningStage {
				out = append(out, w)
			}
		}
		return out
	}
	cl := questionOf(q, r, nil).c
	for i := range q.p.Parts {
		p := &q.p.Parts[i]
		if !has(WorkFact, func(f *Fact) bool { return f.Part == p.Work.Name }) {
			continue
		}
		for n := range instance.Stages {
			switch {
			case !cl.Stages[i][n]:
			case n == 0:
				out = append(out, listening(p.Work.Name)...)
			default:
				out = append(out, byID[p.IDs(n)[0]])
			}
		}
		for k := p.First; k < p.Last; k++ {
			v := &q.p.Passages[k]
			for j := range cl.Visits[k] {
				out = append(out, byID[model.VisitID(v.Work.Name, v.Done+j+1)])
			}
		}
	}
	return out
}

// partOf gives the part that a session's id begins with.
func partOf(id string, work map[string]*model.PartWork) string {
	for name := range work {
		if strings.HasPrefix(id, name+"/") {
			return name
		}
	}
	return ""
}

// solvedOutright is the best plan of a season small enough to be solved outright.
func solvedOutright(t testing.TB, p *instance.Instance) *instance.Solution {
	t.Helper()
	st, _, err := compact.Solve(context.Background(), p, compact.ByHighs(tiny.HiGHS(t), highs.Options{}), instance.NewSolution(p), model.Tolerance{})
	if err != nil {
		t.Fatal(err)
	}
	return st
}

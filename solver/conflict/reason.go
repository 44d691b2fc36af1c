// Package conflict says why sessions are left out, as a minimal set of the season's facts that lets no
// plan place them, and what would help: the smallest changes of each kind (corrections), each with a plan.
package conflict

import (
	"cmp"
	"context"
	"errors"
	"slices"

	"primaprova/model"
	"primaprova/solver/instance"
	"primaprova/solver/oracle"
	"primaprova/solver/run"
)

// Reasons. A plan places some sessions and leaves others out. What the plan
// places can be placed; with some of the others it cannot. So ask for both:
// the demand is what is placed and what is asked about, and the season's facts
// (fact.go) let no plan place all of it. A reason is a set of facts that does
// so already, of which none can be spared: without any one of them the demand
// of the parts whose work is in the set could be placed.
//
// It is found by deletion (Chinneck and Dravnieks, ORSA J. Computing 3,
// 157-168, 1991; in halves as in Junker, AAAI 2004; both from memory): facts
// are tried away, in an order, halves of a kind and then alone, and stay away
// where the rest still lets no plan do it (filter.go). What was needed beside
// more facts is needed beside fewer, so one pass is enough.
//
// Cost: two to four hundred judgements on a season of forty weeks. Each is a demand test
// (some hundred microseconds), then days filled soonest due first (a millisecond),
// then moves from the plan that stands (mostMoves at most), then an engine run
// (judgeWork iterations at most) where the program is small; nearly all end
// with the second. The engine runs are bounded, and all work is (reasonWork); what was
// not told by then stays, and is counted.

// Inquiry asks a season and its plan why.
type Inquiry struct {
	o      run.Options
	p      *instance.Instance
	work   []model.PartWork
	placed map[string]bool
	judge  oracle.Oracle
}

// A Reason says why sessions can't be placed beside what is placed.
type Reason struct {
	Asked   []string // ids of the sessions asked about
	Outcome Outcome
	Facts   []Fact // with Forced: together they let no plan place it all; the part asked about first
	Whole   bool   // everything that the parts want is meant, not what the plan places of them
	// Untried is how many of the facts could not be tried away within the
	// limits. With 0 none of them can be spared, facts of one bundle together.
	Untried int
	// Stretch is where the facts leave too little, if that alone shows it:
	// Need is 0 otherwise.
	Stretch model.Stretch
	Bids    int // judged
	Runs    int // of the engine
}

// Outcome is what an inquiry comes to.
type Outcome string

// The outcomes.
const (
	Forced Outcome = "forced" // no plan places it beside the rest
	Placed Outcome = "placed" // some plan does: the plan that stands could be bettered
	Untold Outcome = "untold" // neither was found within the limits
)

// DefaultRuns is how many engine runs an inquiry makes at most.
const DefaultRuns = 60

// Inquire begins an inquiry. The options are those of planning; Standing is
// the plan that is asked about.
func Inquire(s *model.Season, o run.Options) (*Inquiry, error) {
	if o.Standing == nil {
		return nil, errors.New("solver: no plan to ask about")
	}
	q := &Inquiry{o: o, p: instance.New(s, o.History, o.Standing), work: s.Work(o.History), placed: map[string]bool{},
		judge: oracle.Oracle{Engine: o.Engine, Seed: uint64(o.Seed), Runs: DefaultRuns}}
	for i := range o.Standing.Sessions {
		v := &o.Standing.Sessions[i]
		if int(v.Date-s.From) >= q.p.Today {
			q.placed[v.ID] = true
		}
	}
	return q, nil
}

// question is one demand with the facts that may stand in its way.
type question struct {
	*Inquiry
	c     oracle.Demand
	asked map[int]bool // parts asked about
	facts []Fact
	in    []bool // facts that are still in
	told  map[string]oracle.Verdict

	largeFirst bool // of what is tried away
	bundles    int
}

// Why tells why some sessions, given by their ids, can't be placed beside what
// is placed. It ends early when its work is spent, or the context ends; what it has by
// then is told.
//
// Where days are not too crowded for that alone, a plan may still have left
// room that nothing fits. Then everything the parts want is the demand, if it
// has a stretch of days that is too crowded and needs the parts asked about;
// else the engine is asked.
func (q *Inquiry) Why(ctx context.Context, asked []string) (*Reason, error) {
	r := &Reason{Asked: asked, Outcome: Untold}
	ids := map[string]bool{}
	for _, id := range asked {
		ids[id] = true
	}
	k := &question{Inquiry: q, c: oracle.DemandOf(q.p, q.placed, ids), asked: map[int]bool{}}
	for i := range q.p.Parts {
		if asks(q.p, i, ids) {
			k.asked[i] = true
		}
	}
	q.judge.Work = q.o.Share(oracle.ReasonWork)
	began := q.judge
	err := k.answer(ctx, r)
	if err == nil && r.Outcome == Forced {
		err = q.changedAlone(ctx, r, oracle.DemandOf(q.p, q.placed, ids))
	}
	r.Bids, r.Runs = q.judge.Asked-began.Asked, q.judge.Ran-began.Ran
	return r, err
}

func (k *question) answer(ctx context.Context, r *Reason) (err error) {
	find := func(scope map[int]bool, stretch model.Range) error {
		k.state(scope, stretch)
		r.Outcome = Forced
		r.Untried, err = k.shrink(ctx)
		k.tell(r)
		return err
	}
	if k.alone() {
		return find(k.asked, model.Range{})
	}
	near := k.near()
	if _, _, ok := oracle.EarliestDue(k.beside(near), k.judge.Seed, true); ok {
		r.Outcome = Placed
		return nil
	}
	placed := k.c
	k.c = k.everything()
	if scope, stretch, ok := k.crowd(); ok {
		for _, k.largeFirst = range [2]bool{false, true} {
			r.Whole, r.Facts = true, nil
			if err := find(scope, stretch); err != nil || k.hasAsked() {
				return err
			}
		}
		r.Facts, r.Whole, r.Outcome, r.Untried, r.Stretch = nil, false, Untold, 0, model.Stretch{}
	}
	k.c = placed
	if scope, stretch, ok := k.crowd(); ok {
		return find(scope, stretch)
	}
	return k.byEngine(ctx, near, r, find)
}

// byEngine judges the neighbourhood of what is asked about. Where some plan
// places it while all other parts stay where they stand, or there are none,
// the plan could be bettered.
func (k *question) byEngine(ctx context.Context, near neighbours, r *Reason, find func(map[int]bool, model.Range) error) error {
	v, _, err := k.judge.Judge(ctx, near.problem, true)
	switch {
	case err != nil:
		return err
	case v == oracle.Infeasible:
		return find(near.scope, model.Range{})
	case !near.all:
		v, _, err = k.judge.Judge(ctx, k.beside(near), true)
	}
	if v == oracle.Feasible {
		r.Outcome = Placed
	}
	return err
}

// beside gives the instance of placing neighbours in the room that all other parts
// leave as they stand.
func (k *question) beside(n neighbours) *instance.Instance {
	all, back := oracle.Restrict(k.p, k.c, func(int) bool { return true })
	_, inner, _ := oracle.Around(all, func(i int) bool { return n.scope[back.Parts[i]] })
	return inner
}

// everything is all that the parts want, but for those of which something has
// no day at all and that are not asked about.
func (k *question) everything() oracle.Demand {
	c := oracle.DemandAll(k.p)
	for i := range k.p.Parts {
		one, _ := oracle.Restrict(k.p, c, func(j int) bool { return j == i })
		if _, ok := oracle.TimeWindows(one, true); !ok && !k.asked[i] {
			c.Leave(k.p, i)
		}
	}
	return c
}

// asks tells whether one of the sessions is a part's.
func asks(p *instance.Instance, i int, ids map[string]bool) bool {
	q := &p.Parts[i]
	for _, st := range instance.Stages {
		if ids[model.StageID(q.Work.Name, st)] {
			return true
		}
	}
	for k := q.First; k < q.Last; k++ {
		v := &p.Passages[k]
		for j := range v.Visits {
			if ids[model.VisitID(v.Work.Name, v.Done+j+1)] {
				return true
			}
		}
	}
	return false
}

// alone tells whether the demands of the parts asked about can't be placed even if
// all other parts asked for nothing.
func (k *question) alone() bool {
	p, _ := oracle.Restrict(k.p, k.c, func(i int) bool { return k.asked[i] })
	return oracle.Overloaded(p, true)
}

// crowd finds parts whose demands can't all be placed because some days are too
// crowded, those asked about among them; and the days.
func (k *question) crowd() (scope map[int]bool, days model.Range, ok bool) {
	p := k.p
	all, back := oracle.Restrict(p, k.c, func(int) bool { return true })
	spans, ok := oracle.TimeWindows(all, true)
	if !ok {
		return nil, days, false
	}
	named := map[int]bool{}
	for i, of := range back.Parts {
		if k.asked[of] {
			named[i] = true
		}
	}
	t := oracle.MostOverloaded(all, spans, named)
	if t.Need == 0 {
		return nil, days, false
	}
	scope = map[int]bool{}
	for _, s := range spans {
		if s.Lo >= t.Lo && s.Hi <= t.Hi && s.Uses[t.Supply] > 0 {
			scope[back.Parts[s.Part]] = true
		}
	}
	return scope, model.Range{From: p.Season.From + model.Date(t.Lo), To: p.Season.From + model.Date(t.Hi)}, true
}

// hasAsked tells whether the work of every part asked about is still in.
func (k *question) hasAsked() bool {
	for n := range k.facts {
		if f := &k.facts[n]; f.Kind == WorkFact && k.asked[f.part] && !k.in[n] {
			return false
		}
	}
	return true
}

// neighbours are parts around those asked about.
type neighbours struct {
	scope   map[int]bool
	problem *instance.Instance // of placing their demands
	size    int                // visit-days
	all     bool               // no day of theirs is any other part's
}

// near gives the parts whose days meet those of the parts asked about, and
// those that meet these, and so on, as long as an engine can judge them.
func (k *question) near() neighbours {
	p := k.p
	n := neighbours{scope: map[int]bool{}}
	for i := range k.asked {
		n.scope[i] = true
	}
	for {
		wider := map[int]bool{}
		for i := range n.scope {
			for _, m := range p.Parts[i].Meets {
				wider[m] = true
			}
		}
		now, _ := oracle.Restrict(p, k.c, func(i int) bool { return wider[i] })
		if size := now.VisitDays(); n.problem == nil || size <= oracle.JudgeSize {
			n.all = len(wider) == len(n.scope)
			n.scope, n.problem, n.size = wider, now, size
		} else {
			return n
		}
		if n.all {
			return n
		}
	}
}

// tell writes down what is left: the parts asked about first, then the work of
// others, the most first, then the rest in the order of the season file.
func (k *question) tell(r *Reason) {
	for n, in := range k.in {
		if in {
			r.Facts = append(r.Facts, k.facts[n])
		}
	}
	rank := func(f *Fact) int {
		switch {
		case f.Kind == WorkFact && k.asked[f.part]:
			return 0
		case f.Kind == WorkFact:
			return 1
		}
		return 2
	}
	slices.SortStableFunc(r.Facts, func(a, b Fact) int {
		if c := cmp.Compare(rank(&a), rank(&b)); c != 0 || rank(&a) == 2 {
			return c
		}
		return cmp.Compare(b.Minutes, a.Minutes)
	})
	p, ordered := k.without()
	spans, ok := oracle.TimeWindows(p, ordered)
	if !ok {
		return
	}
	t := oracle.MostOverloaded(p, spans, nil)
	from := p.Season.From
	r.Stretch = model.Stretch{Days: model.Range{From: from + model.Date(t.Lo), To: from + model.Date(t.Hi)}, Supply: t.Supply, Need: t.Need, Has: t.Has}
	for i := range p.Parts {
		need := 0
		for _, s := range spans {
			if s.Part == i && s.Lo >= t.Lo && s.Hi <= t.Hi {
				need += s.Uses[t.Supply]
			}
		}
		if need > 0 {
			r.Stretch.Shares = append(r.Stretch.Shares, model.Share{Part: p.Parts[i].Work.Name, Need: need})
		}
	}
	slices.SortStableFunc(r.Stretch.Shares, func(a, b model.Share) int { return cmp.Compare(b.Need, a.Need) })
}

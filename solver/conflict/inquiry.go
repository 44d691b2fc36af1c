package conflict

import (
	"context"
	"errors"
	"slices"

	"primaprova/model"
	"primaprova/solver/instance"
	"primaprova/solver/oracle"
	"primaprova/solver/run"
)

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

// Inquire begins an inquiry. The options are those of planning; Standing is
// the plan that is asked about.
func Inquire(s *model.Season, o run.Options) (*Inquiry, error) {
	if o.Standing == nil {
		return nil, errors.New("solver: no plan to ask about")
	}
	q := &Inquiry{o: o, p: instance.New(s, o.History, o.Standing), work: s.Work(o.History), placed: map[string]bool{},
		judge: oracle.Oracle{Engine: o.Engine, Seed: uint64(o.Seed), Runs: o.Tuning().AskRuns}}
	for i := range o.Standing.Sessions {
		v := &o.Standing.Sessions[i]
		if int(v.Date-s.From) >= q.p.Today {
			q.placed[v.ID] = true
		}
	}
	return q, nil
}

// asks tells whether one of the sessions is a part's.
func asks(p *instance.Instance, i int, ids map[string]bool) bool {
	q := &p.Parts[i]
	for n := range instance.Stages {
		if slices.ContainsFunc(q.IDs(n), func(id string) bool { return ids[id] }) {
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

// changedAlone tells of each fact of a reason whether some plan places the demand where
// that fact alone is dropped and everything else of the season stands. A reason leaves
// out what it does without, so without one of its facts there may still be another
// reason.
func (q *Inquiry) changedAlone(ctx context.Context, r *Reason, c oracle.Demand) error {
	q.judge.Work = q.o.Share(q.o.Tuning().AloneWork)
	near := q.looking(r, 0).meets
	for n := range r.Facts {
		f := &r.Facts[n]
		if f.Bundle > 0 || ctx.Err() != nil || q.judge.Over() {
			continue
		}
		keep := func(int) bool { return true }
		var dropped []Fact
		if f.Kind == WorkFact {
			keep = func(i int) bool { return i != f.part }
		} else {
			dropped = []Fact{*f}
		}
		p := relax(q.p, q.o.History, dropped)
		q.judge.SpendBuild(p)
		p, _ = oracle.Restrict(p, c, keep)
		v, err := q.helps(ctx, p, near, f.Kind != OrderFact)
		if err != nil {
			return err
		}
		switch v {
		case oracle.Feasible:
			f.Alone = Yes
		case oracle.Infeasible:
			f.Alone = No
		}
	}
	return nil
}

// helps judges a whole season with a fact dropped: whether days are too crowded, and
// whether the parts near those asked about find room while the others stay; only a small
// one is looked into further.
func (q *Inquiry) helps(ctx context.Context, p *instance.Instance, near map[string]bool, ordered bool) (oracle.Verdict, error) {
	if q.judge.SpendDemand(p); oracle.Overloaded(p, ordered) {
		return oracle.Infeasible, nil
	}
	if ordered {
		_, inner, _ := oracle.Around(p, func(i int) bool { return near[p.Parts[i].Work.Name] })
		_, tries, ok := oracle.EarliestDueNear(inner, q.judge.Seed)
		if q.judge.SpendTurns(inner, tries); ok {
			return oracle.Feasible, nil
		}
	}
	if p.VisitDays() > p.Params.JudgeSize {
		return oracle.Unknown, nil
	}
	v, _, err := q.judge.Judge(ctx, p, ordered)
	return v, err
}

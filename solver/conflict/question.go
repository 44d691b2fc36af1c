package conflict

import (
	"reflect"

	"primaprova/model"
	"primaprova/solver/instance"
	"primaprova/solver/oracle"
)

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

// state lists the facts that are in to begin with.
func (k *question) state(scope map[int]bool, stretch model.Range) {
	s := k.p.Season
	all := model.Range{From: s.From + model.Date(k.p.Today), To: s.To}
	k.told = map[string]oracle.Verdict{}
	k.facts = facts(s, k.work, capRuns(all, stretch))
	k.in = make([]bool, len(k.facts))
	for n := range k.facts {
		f := &k.facts[n]
		k.in[n] = f.Kind != WorkFact || scope[f.part]
		switch f.Kind {
		case WorkFact:
			f.Minutes = model.Minutes(k.c.Playing(k.p, f.part))
		case CapFact:
			for d := f.Days.From; d <= f.Days.To; d++ {
				f.Minutes += model.Minutes(k.p.Room[d-s.From].Playing)
			}
		}
	}
	k.drop(scope)
}

// concerns tells whether a fact is about a part or programme whose work is in;
// most facts are about all.
func (k *question) concerns(f *Fact) bool {
	if f.Part == "" && f.Kind != RehearsalFact {
		return true
	}
	for n, in := range k.in {
		if w := &k.facts[n]; in && w.Kind == WorkFact && (f.Part == w.Part || f.Part == "" && f.programme == w.programme) {
			return true
		}
	}
	return false
}

// without gives the instance in which only the facts that are in hold, cut to
// the demand of the parts whose work is in.
func (k *question) without() (p *instance.Instance, ordered bool) {
	var dropped []Fact
	work := make([]bool, len(k.p.Parts))
	ordered = true
	for n, in := range k.in {
		f := &k.facts[n]
		switch {
		case f.Kind == WorkFact:
			work[f.part] = in
		case !in:
			dropped = append(dropped, *f)
			ordered = ordered && f.Kind != OrderFact
		}
	}
	p, _ = oracle.Restrict(relax(k.p, k.o.History, dropped), k.c, func(i int) bool { return work[i] })
	return p, ordered
}

// drop takes out of a question, before anything is judged, what changes nothing for the
// parts in scope: a rule of a day on which they may not lie, or one that another rule
// makes idle. Of two that make each other idle the later in the list goes.
func (k *question) drop(scope map[int]bool) {
	var out []Fact
	for n := len(k.facts) - 1; n >= 0; n-- {
		f := &k.facts[n]
		if f.Kind == WorkFact || f.Kind == OrderFact || k.judge.Over() {
			continue
		}
		less := append([]Fact{*f}, out...) // relax goes by their order in the list
		k.judge.SpendBuild(k.p)
		if sameFor(relax(k.p, k.o.History, less), k.p, scope) {
			k.in[n], out = false, less
		}
	}
}

// sameFor tells whether two forms of a season are the same for some parts: in their
// days, and in what these have room for.
func sameFor(p *instance.Instance, o *instance.Instance, scope map[int]bool) bool {
	for i := range scope {
		a, b := p.Parts[i], o.Parts[i]
		a.Meets, a.Nearest, b.Meets, b.Nearest = nil, nil, nil, nil
		if !reflect.DeepEqual(a, b) {
			return false
		}
		for v := a.First; v < a.Last; v++ {
			if !reflect.DeepEqual(p.Passages[v], o.Passages[v]) {
				return false
			}
		}
		for d := max(a.Lo, 0); d <= min(a.Hi, p.Days-1); d++ {
			if p.Room[d] != o.Room[d] {
				return false
			}
		}
	}
	return true
}

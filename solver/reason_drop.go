package solver

import "reflect"

// drop takes out of a question, before anything is judged, what changes nothing for the
// parts in scope: a rule of a day on which they may not lie, or one that another rule
// makes idle. Of two that make each other idle the later in the list goes.
func (k *question) drop(scope map[int]bool) {
	var out []Fact
	for n := len(k.facts) - 1; n >= 0; n-- {
		f := &k.facts[n]
		if f.Kind == WorkFact || f.Kind == OrderFact || k.judge.over() {
			continue
		}
		less := append([]Fact{*f}, out...) // relax goes by their order in the list
		k.judge.spendBuild(k.p)
		if k.p.relax(k.o.History, less).sameFor(k.p, scope) {
			k.in[n], out = false, less
		}
	}
}

// sameFor tells whether two forms of a season are the same for some parts: in their
// days, and in what these have room for.
func (p *problem) sameFor(o *problem, scope map[int]bool) bool {
	for i := range scope {
		a, b := p.parts[i], o.parts[i]
		a.meets, a.close, b.meets, b.close = nil, nil, nil, nil
		if !reflect.DeepEqual(a, b) {
			return false
		}
		for v := a.first; v < a.last; v++ {
			if !reflect.DeepEqual(p.passages[v], o.passages[v]) {
				return false
			}
		}
		for d := max(a.lo, 0); d <= min(a.hi, p.days-1); d++ {
			if p.room[d] != o.room[d] {
				return false
			}
		}
	}
	return true
}

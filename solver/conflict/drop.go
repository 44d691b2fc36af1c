package conflict

import (
	"reflect"

	"primaprova/solver/instance"
)

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

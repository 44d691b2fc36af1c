package conflict

import (
	"context"

	"primaprova/solver/instance"
	"primaprova/solver/oracle"
)

// neighbours are parts around those asked about.
type neighbours struct {
	scope   map[int]bool
	problem *instance.Instance // of placing their demands
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
		if n.problem == nil || now.VisitDays() <= now.Params.JudgeSize {
			n.all = len(wider) == len(n.scope)
			n.scope, n.problem = wider, now
		} else {
			return n
		}
		if n.all {
			return n
		}
	}
}

// beside gives the instance of placing neighbours in the room that all other parts
// leave as they stand.
func (k *question) beside(n neighbours) *instance.Instance {
	all, back := oracle.Restrict(k.p, k.c, func(int) bool { return true })
	_, inner, _ := oracle.Around(all, func(i int) bool { return n.scope[back.Parts[i]] })
	return inner
}

// verdict judges the facts that are in; quickly: by the demand test alone.
func (k *question) verdict(ctx context.Context, quick bool) (oracle.Verdict, error) {
	key := make([]byte, len(k.in))
	for n, in := range k.in {
		if in {
			key[n] = 1
		}
	}
	if v, ok := k.told[string(key)]; ok {
		return v, nil
	}
	if k.judge.Over() {
		return oracle.Unknown, nil
	}
	p, ordered := k.without()
	k.judge.SpendBuild(p)
	v, err := oracle.Unknown, error(nil)
	if quick {
		k.judge.Asked++
		if k.judge.SpendDemand(p); oracle.Overloaded(p, ordered) {
			v = oracle.Infeasible
		}
	} else {
		v, _, err = k.judge.Judge(ctx, p, ordered)
	}
	if v != oracle.Unknown {
		k.told[string(key)] = v
	}
	return v, err
}

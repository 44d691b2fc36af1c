package solver

import (
	"context"
	"testing"

	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver/construct"
	"primaprova/solver/instance"
	"primaprova/solver/tiny"
)

// Windows weigh body against spacing, which nothing is placed for; yet what is out
// though there is room for it does not stay out.
func TestWindowsPlaceWhatIsOut(t *testing.T) {
	p := instance.New(invent.Season(invent.Grown(10, 0, false, 1)), nil, nil)
	st := construct.Greedy(p)
	had := st.Score()[model.Coverage]
	for _, k := range []int{0, 7, 14} {
		if len(st.Sched[k]) > 0 {
			st.Lift(k)
		}
	}
	out := st.Score()
	if out[model.Coverage] <= had {
		t.Fatal("nothing is out")
	}
	s := newSearch(p, &Options{Engine: tiny.HiGHS(t), Seed: 1, Work: 0.05}, st)
	s.found = st
	defer s.Forget()
	if err := s.windows(context.Background(), out); err != nil {
		t.Fatal(err)
	}
	if now := s.st.Score()[model.Coverage]; now > had {
		t.Errorf("coverage %d, %d with what was lifted, %d in the end", had, out[model.Coverage], now)
	}
	if breaches := p.Season.Audit(s.st.Assemble(nil, nil), nil); len(breaches) > 0 {
		t.Error(breaches)
	}
}

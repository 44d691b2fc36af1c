package solver

import (
	"context"
	"testing"

	"primaprova/model"
	"primaprova/model/invent"
)

// Windows weigh body against spacing, which nothing is placed for; yet what is out
// though there is room for it does not stay out.
func TestWindowsPlaceWhatIsOut(t *testing.T) {
	p := build(invent.Season(invent.Grown(10, 0, false, 1)), nil, nil)
	st := greedy(p)
	had := st.score()[model.Coverage]
	for _, k := range []int{0, 7, 14} {
		if len(st.sched[k]) > 0 {
			st.lift(k)
		}
	}
	out := st.score()
	if out[model.Coverage] <= had {
		t.Fatal("nothing is out")
	}
	s := newSearch(p, &Options{Engine: highsLibrary(t), Seed: 1, Work: 0.05}, st)
	s.found = st
	defer s.forget()
	if err := s.windows(context.Background(), out); err != nil {
		t.Fatal(err)
	}
	if now := s.st.score()[model.Coverage]; now > had {
		t.Errorf("coverage %d, %d with what was lifted, %d in the end", had, out[model.Coverage], now)
	}
	if breaches := p.season.Audit(s.st.assemble(nil, nil), nil); len(breaches) > 0 {
		t.Error(breaches)
	}
}

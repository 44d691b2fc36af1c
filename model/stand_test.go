package model

import "testing"

// Ready is the last visit's day while nothing is lacking; the return to the
// recordings may be.
func TestReadyMeansReady(t *testing.T) {
	for _, c := range []struct {
		without     string
		ready, last Date
		lacks       int
	}{
		{"", march(10), march(10), 0},
		{slate + "/recordings", march(10), march(10), 1},
		{pageA + "/visit-4", 0, march(7), 1},
		{pageB + "/visit-3", 0, march(10), 1}, // the other passage goes on, and the part is not ready
		{slate + "/listening", 0, march(10), 1},
	} {
		s, p := fixture()
		if c.without != "" {
			p.leaveOut(s, nil, c.without)
		}
		x := s.Stands(p, nil)[0]
		if x.Ready != c.ready || x.Last != c.last || len(x.Lacks) != c.lacks {
			t.Errorf("without %q: ready %v, last %v, %d lacking", c.without, x.Ready, x.Last, len(x.Lacks))
		}
		ready, lacks := Together([]Stand{{Ready: march(2)}, x})
		if want := c.ready; ready != want || lacks != c.lacks {
			t.Errorf("without %q, with another part: ready %v, %d lacking", c.without, ready, lacks)
		}
	}
}

// Once the first rehearsal has come nothing of a part is wanted, left out or
// warned of, however little was done.
func TestWhatIsPastIsNoMatterOfThePlan(t *testing.T) {
	s, p := fixture()
	for _, day := range []int{11, 12, 13} {
		h := &History{Today: march(day)}
		over := day >= 12
		if got := len(s.Wanted(h)) == 0; got != over {
			t.Errorf("on %v %d sessions are wanted", h.Today, len(s.Wanted(h)))
		}
		if got := len(s.Needs(h)) == 0 && len(s.Roomless(h)) == 0 && len(s.Stretches(h)) == 0; got != over {
			t.Errorf("on %v: needs %v, without a day %v", h.Today, s.Needs(h), s.Roomless(h))
		}
		x := s.Stands(p, h)[0]
		if x.Over != over || x.Ready != 0 || len(x.Lacks) == 0 {
			t.Errorf("on %v: %+v", h.Today, x)
		}
		empty := &Plan{Sessions: s.Past(h, nil)}
		s.FinishFrom(empty, h)
		if breaches := s.Audit(empty, h); over && len(breaches) > 0 || !over && len(breaches) == 0 {
			t.Errorf("on %v a plan of nothing: %v", h.Today, breaches)
		}
		if m := s.Measure(empty, h, nil); (m[Coverage] == 0) != over {
			t.Errorf("on %v a plan of nothing leaves out %v points", h.Today, m[Coverage])
		}
	}
}

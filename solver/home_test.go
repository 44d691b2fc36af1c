package solver

import (
	"context"
	"testing"

	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver/construct"
	"primaprova/solver/instance"
)

// askedOften is a context that ends when it has been asked so often whether it
// has.
type askedOften struct {
	context.Context
	left int
}

func (c *askedOften) Err() error {
	if c.left--; c.left < 0 {
		return context.Canceled
	}
	return nil
}

// TestCutShortGoesHome: a part comes late, and the search is cut short before
// it comes to closeness. What wandered for nothing goes back to where it stood,
// no wish before closeness pays for it, and nothing is left that could.
func TestCutShortGoesHome(t *testing.T) {
	gained, all := int64(0), int64(0)
	for seed := range uint64(2) {
		s := invent.Season(invent.Size{Weeks: 8, Programmes: 3, Parts: 3, Passages: 6, Lead: 35, Tightness: 0.8, Irregular: true, Seed: seed})
		standing, err := Greedy(s, Options{})
		if err != nil {
			t.Fatal(err)
		}
		part := &s.Programmes[1].Parts[0]
		part.Arrives = s.Programmes[1].FirstRehearsal() - 12
		h := &model.History{Today: s.From + 7}
		p := instance.New(s, h, standing)
		st := construct.FromStanding(p)
		im := construct.NewAnnealer(st, seed)
		im.Free = p.Unplanned(st)
		// Ended early, while much is still allowed to move.
		im.Run(&askedOften{Context: context.Background(), left: 12}, model.Coverage, 40000)
		im.Run(&askedOften{Context: context.Background(), left: 12}, model.ReadyBy, 40000)
		was := st.Score()
		construct.Restore(st)
		is := st.Score()
		if is != was && !is.Less(was) {
			t.Fatalf("season %d: %v became %v", seed, was, is)
		}
		gained, all = gained+was[model.Closeness]-is[model.Closeness], all+was[model.Closeness]
		if _, err := instance.Finish(st, Options{History: h, Standing: standing}, nil, model.CutShort, 0); err != nil {
			t.Fatalf("season %d: %v", seed, err)
		}
	}
	t.Logf("of %d visit-days moved %d were for nothing", all, gained)
	if gained == 0 {
		t.Error("nothing ever wanders, so this shows nothing")
	}
}

package solver

import (
	"bytes"
	"testing"

	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver/compact"
	"primaprova/solver/instance"
	"primaprova/solver/run"
	"primaprova/solver/tiny"
)

// withoutSpellRules gives a season in which nothing is asked of the days after pain,
// illness or time off.
func withoutSpellRules(s *model.Season) *model.Season {
	out := *s
	out.Limits.Light, out.Limits.LightDays, out.Limits.Return = 100, 0, model.Return{}
	return &out
}

// after gives a season on a day, with the plan that stood and a record of what
// happened until then, as planning anew has it.
func after(t testing.TB, s *model.Season, today model.Date, events []model.Event) (*model.Season, run.Options) {
	t.Helper()
	standing, err := Greedy(s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	h, _, _ := s.Resume(events, standing, model.Replaying{Today: today, TakeAsDone: true})
	return s.With(h), run.Options{History: h, Standing: standing}
}

// TestNoSpellNoRule: in a season without a spell the rules for the days after one are
// not there. What is planned by, written out whole, is the same to the byte with them
// and without, on the first day and in mid-season; so plans and their wishes are.
// With one day of pain it is another.
func TestNoSpellNoRule(t *testing.T) {
	written := func(s *model.Season, today model.Date, events []model.Event) []byte {
		season, o := after(t, s, today, events)
		var b bytes.Buffer
		if _, _, err := compact.WriteProgram(&b, season, o); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	others := 0
	for _, n := range invent.Sizes(23) {
		n.Size.Weeks, n.Size.Programmes, n.Size.Passages = min(n.Size.Weeks, 6), min(n.Size.Programmes, 2), min(n.Size.Passages, 4)
		s := invent.Season(n.Size)
		for _, today := range []model.Date{s.From, s.From + 20} {
			if !bytes.Equal(written(s, today, nil), written(withoutSpellRules(s), today, nil)) {
				t.Errorf("%s, %v: the program is another without rules for spells", n.Name, today)
			}
		}
		today := s.From + model.Date(s.Days()/3)
		pain := []model.Event{{Entry: 1, Kind: model.Pain, Date: today}}
		if !bytes.Equal(written(s, today, pain), written(withoutSpellRules(s), today, pain)) {
			others++
		}
	}
	if all := len(invent.Sizes(23)); others < all-1 {
		t.Errorf("of %d seasons only %d have another program after a day of pain", all, others)
	}
}

// BenchmarkSpells has a season of twelve weeks on a day of pain, on the third day of an
// illness and on a day like any, with the rules for spells and without: building is
// what the rules themselves cost (the season with its record, and the instance), planning
// what becomes of it, which goes by how hard the season is that they leave. ns/op is the
// clock; cpu-ms/op counts the processor, whoever else is at work.
func BenchmarkSpells(b *testing.B) {
	z := invent.Grown(12, 0, true, 3)
	z.Passages, z.Tightness = 6, 0.6
	s := invent.Season(z)
	today := s.From + 30
	pain := []model.Event{{Entry: 1, Kind: model.Pain, Date: today}}
	ill := []model.Event{{Entry: 1, Kind: model.DayLost, Date: today - 2, Last: today + 4}}
	for _, x := range []struct {
		name   string
		season *model.Season
		events []model.Event
	}{
		{"none/rules", s, nil}, {"none/without", withoutSpellRules(s), nil},
		{"pain/rules", s, pain}, {"pain/without", withoutSpellRules(s), pain},
		{"illness/rules", s, ill}, {"illness/without", withoutSpellRules(s), ill},
	} {
		measured := func(b *testing.B, do func()) {
			before := run.Processor()
			for b.Loop() {
				do()
			}
			b.ReportMetric(1000*(run.Processor()-before)/float64(b.N), "cpu-ms/op")
		}
		_, o := after(b, x.season, today, x.events)
		b.Run("building/"+x.name, func(b *testing.B) {
			measured(b, func() { instance.New(x.season.With(o.History), o.History, o.Standing) })
		})
		b.Run("planning/"+x.name, func(b *testing.B) {
			o := o
			o.Engine, o.Work, o.Tolerance = tiny.HiGHS(b), 0.05, model.DefaultTolerance
			measured(b, func() {
				if _, err := Solve(b.Context(), x.season.With(o.History), o); err != nil {
					b.Fatal(err)
				}
			})
		})
	}
}

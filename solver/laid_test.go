package solver

import (
	"context"
	"reflect"
	"slices"
	"testing"

	"primaprova/io/seasonfile"
	"primaprova/model"
	"primaprova/solver/hours"
	"primaprova/solver/tiny"
)

// The whole demo season gets its hours, audited, the same each time, and a
// second look changes nothing; a day that changes keeps the others as they are.
func TestDemoDays(t *testing.T) {
	f, err := seasonfile.Read("../testdata/seasons/demo/season.yaml")
	if err != nil {
		t.Fatal(err)
	}
	s, l := f.Season, tiny.CPSAT(t)
	s.To = s.From + 90 // a third of it is enough here; bench has it whole
	s.Programmes = slices.DeleteFunc(s.Programmes, func(p model.Programme) bool {
		return slices.ContainsFunc(p.Services, func(v model.Service) bool { return v.Date > s.To })
	})
	lay := func(standing *model.Plan) (*model.Plan, []model.Date) {
		p, err := Greedy(s, Options{})
		if err != nil {
			t.Fatal(err)
		}
		changed, err := hours.LayOutDays(context.Background(), l, Tuned.HoursWork, s, p, standing, s.From)
		if err != nil {
			t.Fatal(err)
		}
		if b := s.Audit(p, nil); len(b) > 0 {
			t.Fatal(b)
		}
		return p, changed
	}
	p, changed := lay(nil)
	if len(changed) < 20 {
		t.Errorf("%d days got other hours", len(changed))
	}
	if q, _ := lay(nil); !reflect.DeepEqual(p, q) {
		t.Error("other hours the second time")
	}
	if q, _ := lay(p); !reflect.DeepEqual(p, q) {
		t.Error("other hours over a plan that stands")
	}
	stopped, cancel := context.WithCancel(context.Background())
	cancel()
	q, err := Greedy(s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if changed, err := hours.LayOutDays(stopped, l, Tuned.HoursWork, s, q, nil, s.From); err != nil || len(changed) > 0 {
		t.Errorf("stopped at once: %v, %v", changed, err)
	}
}

// Solve lays days out, and over a plan whose hours are first fit's it gives
// hours and changes nothing else; after that it gives the plan back as it is.
func TestSolveLaysDaysOut(t *testing.T) {
	f, err := seasonfile.Read("../testdata/seasons/small.yaml")
	if err != nil {
		t.Fatal(err)
	}
	s, ctx := f.Season, context.Background()
	s.Hours.Every = []model.Span{{From: 570, To: 750}, {From: 840, To: 1020}}
	solve := func(o Options) *model.Plan {
		o.Engine, o.Work = tiny.HiGHS(t), 0.1
		p, err := Solve(ctx, s, o)
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	fitted := solve(Options{})
	laid := solve(Options{Days: tiny.CPSAT(t), Standing: fitted})
	if reflect.DeepEqual(laid.Sessions, fitted.Sessions) || laid.Provenance.Engine != fitted.Provenance.Engine+hours.Clocked {
		t.Errorf("no hours of its own: %s", laid.Provenance.Engine)
	}
	on := map[string]model.Date{}
	for _, v := range fitted.Sessions {
		on[v.ID] = v.Date
	}
	for _, v := range laid.Sessions {
		if on[v.ID] != v.Date {
			t.Errorf("%s moved to %v", v.ID, v.Date)
		}
	}
	if again := solve(Options{Days: tiny.CPSAT(t), Standing: laid}); !reflect.DeepEqual(again, laid) {
		t.Error("nothing happened, and the plan changed")
	}
}

package invent

import (
	"fmt"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"primaprova/model"
)

// faults gives what keeps a season from being planned.
func faults(s *model.Season) (out []model.Fault) {
	for _, f := range s.Validate() {
		if !f.Warning {
			out = append(out, f)
		}
	}
	return out
}

func TestAnySize(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		weeks := rapid.IntRange(2, 30).Draw(t, "weeks")
		z := Size{
			Weeks: weeks, Programmes: rapid.IntRange(1, weeks).Draw(t, "programmes"),
			Parts: rapid.IntRange(1, 5).Draw(t, "parts"), Passages: rapid.IntRange(1, 12).Draw(t, "passages"),
			Lead: rapid.IntRange(3, 60).Draw(t, "lead"), AtOnce: rapid.IntRange(0, 6).Draw(t, "at once"),
			Tightness: rapid.Float64Range(0, 1.5).Draw(t, "tightness"), Late: rapid.Float64Range(0, 1).Draw(t, "late"),
			Irregular: rapid.Bool().Draw(t, "irregular"), Estimates: rapid.Float64Range(0, 1).Draw(t, "estimates"),
			Hours: rapid.Bool().Draw(t, "hours"), RestDays: rapid.IntRange(0, 3).Draw(t, "rest days"),
			Off: rapid.Float64Range(0, 0.2).Draw(t, "off"), Impossible: rapid.Bool().Draw(t, "impossible"),
			Seed: rapid.Uint64().Draw(t, "seed"),
		}
		s := Season(z)
		if f := faults(s); len(f) > 0 {
			t.Fatalf("%d faults, the first: %+v", len(f), f[0])
		}
		if !reflect.DeepEqual(s, Season(z)) {
			t.Fatal("the same size gives another season")
		}
	})
}

func TestSizes(t *testing.T) {
	for seed := uint64(1); seed <= 5; seed++ {
		for _, n := range Sizes(seed) {
			s := Season(n.Size)
			if f := faults(s); len(f) > 0 {
				t.Errorf("%s %d: %d faults, the first: %+v", n.Name, seed, len(f), f[0])
			}
			if n.Size.Late > 0 {
				continue // some can be had all the same, some can't
			}
			if got, want := leavesOut(s), n.Name == "too tight" || n.Size.Impossible; got != want {
				t.Errorf("%s %d: certain to leave something out: %v", n.Name, seed, got)
			}
		}
	}
}

// leavesOut tells whether a season is known, before it is planned, to hold more
// than its days do.
func leavesOut(s *model.Season) bool {
	for _, n := range s.Needs(nil) {
		if n.Short() > 0 || n.Past > 0 {
			return true
		}
	}
	return false
}

// Demo seasons are as large and as tight as the season that make demo plans,
// whatever the seed: 609 passages, 2353 visits, 0.87.
func TestDemo(t *testing.T) {
	for seed := uint64(1); seed <= 10; seed++ {
		s := Season(Demo(seed))
		var passages, visits int
		recipes := map[string]bool{}
		for _, w := range s.Work(nil) {
			for _, p := range w.Passages {
				passages++
				visits += len(p.Recipe)
				recipes[key(&p)] = true
			}
		}
		if passages < 640 || passages > 700 || visits < 2300 || visits > 3000 {
			t.Errorf("seed %d: %d passages, %d visits", seed, passages, visits)
		}
		if len(recipes) < passages*90/100 {
			t.Errorf("seed %d: %d recipes for %d passages", seed, len(recipes), passages)
		}
		if tight := Tightest(s); tight < 0.7 || tight > 0.9 {
			t.Errorf("seed %d: the tightest stretch asks for %.2f of its room", seed, tight)
		}
		t.Logf("seed %d: cap %v, tightest %.2f, %d passages, %d visits, %d recipes", seed, s.Limits.Playing.Every, Tightest(s), passages, visits, len(recipes))
	}
}

// Longer seasons are as dense as short ones.
func TestGrown(t *testing.T) {
	for _, weeks := range []int{10, 20, 40, 80, 120} {
		s := Season(Grown(weeks, 3, false, 1))
		if f := faults(s); len(f) > 0 {
			t.Errorf("%d weeks: %+v", weeks, f[0])
		}
		if 10*len(s.Programmes) != 3*weeks {
			t.Errorf("%d weeks have %d programmes", weeks, len(s.Programmes))
		}
		if tight := Tightest(s); tight > 0.9 {
			t.Errorf("%d weeks: the tightest stretch asks for %.2f of its room", weeks, tight)
		}
	}
}

// key tells recipes apart as the planning does: by lengths and values.
func key(p *model.PassageWork) string {
	return fmt.Sprint(p.Recipe)
}

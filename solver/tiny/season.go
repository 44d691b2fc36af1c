// Package tiny is for tests of the solver: seasons small enough for every plan of them to be tried,
// drawn by a die, the trying itself, and the engines. A limit that Draw never sets, or on no day on
// which it matters, is one that no test of the solver tries.
package tiny

import (
	"context"
	"math/rand/v2"
	"testing"
	"time"

	"pgregory.net/rapid"

	"primaprova/model"
	"primaprova/solver/cpsat"
	"primaprova/solver/highs"
	"primaprova/solver/instance"
	"primaprova/solver/mip"
	"primaprova/solver/ortools"
)

// HiGHS loads HiGHS from where make test puts it.
func HiGHS(t testing.TB) *highs.Library {
	t.Helper()
	path, err := ortools.Locate(context.Background(), ortools.HiGHS, "")
	if err != nil {
		t.Fatal(err)
	}
	l, err := highs.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// CPSAT loads CP-SAT likewise.
func CPSAT(t testing.TB) *cpsat.Library {
	t.Helper()
	path, err := ortools.Locate(context.Background(), ortools.CPSAT, "")
	if err != nil {
		t.Fatal(err)
	}
	l, err := cpsat.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// A die gives a whole number from 0 to n-1.
type Die func(n int) int

// DieOf rolls with a seed, so that a failing season can be named by a number.
func DieOf(seed int) Die {
	r := rand.New(rand.NewPCG(uint64(seed), 0x74696e79))
	return r.IntN
}

// Drawn lets rapid choose the seed: its own draws keep to small numbers, which
// make poor seasons.
func Drawn(t *rapid.T) Die { return DieOf(rapid.Int().Draw(t, "seed")) }

func (d Die) Between(lo, hi int) int               { return lo + d(hi-lo+1) }
func (d Die) Once(in int) bool                     { return d(in) == in-1 }
func (d Die) Steps(lo, hi int) int                 { return 5 * d.Between(lo, hi) }
func (d Die) Minutes(lo, hi int) (m model.Minutes) { return model.Minutes(d.Steps(lo, hi)) }

// Size says how large a tiny season may be.
type Size struct{ Days, Passages, Visits int }

// Case is a season small enough to try everything, with a record and a standing
// plan in some: rest days, days off, services, hours, pins, own due dates,
// passages found later, dropped or to be learned again.
type Case struct {
	Season   *model.Season
	History  *model.History
	Standing *model.Plan
}

func (c *Case) Problem() *instance.Instance { return instance.New(c.Season, c.History, c.Standing) }

func Draw(roll Die, z Size) *Case {
	c := &Case{Season: &model.Season{TimeZone: "Europe/Oslo", Limits: tinyLimits(roll), Habits: tinyHabits(roll, z)}}
	s := c.Season
	s.From = model.NewDate(2027, time.January, 11) + model.Date(roll(3)) // a Monday, or not
	n := roll.Between(max(4, z.Days-3), z.Days)
	s.To = s.From + model.Date(n-1)
	if roll.Once(6) {
		s.Limits.DaysOff = []model.Range{{From: s.From + model.Date(roll(n)), To: s.From + model.Date(roll(n))}}
	}
	if roll.Once(4) {
		s.Limits.Playing.Dates = []model.Dated[model.Minutes]{{Range: model.Range{From: s.From + 1, To: s.From + 3}, Value: roll.Minutes(0, 6)}}
	}
	if roll.Once(5) {
		s.Hours.Every = []model.Span{{From: 600, To: model.Clock(600 + roll.Steps(3, 9))}}
	}
	passages := z.Passages
	for i := range roll.Between(1, min(2, passages)) {
		p := model.Programme{ID: string(rune('a' + i))}
		first := s.From + model.Date(roll.Between(n-2, n+1))
		p.Services = append(p.Services, model.Service{Kind: model.Rehearsal, Date: first, Start: 600, Lasts: 60, Playing: 50})
		if roll.Once(3) {
			p.Services = append(p.Services, model.Service{Kind: model.Concert, Date: s.From + model.Date(roll(n)), Start: 620, Lasts: 40, Playing: 25 * roll(5)})
		}
		own := passages
		if i == 0 && passages > 1 {
			own = roll.Between(1, passages-1)
		}
		passages -= own
		p.Parts = append(p.Parts, tinyPart(roll, s, own, z))
		s.Programmes = append(s.Programmes, p)
		if passages == 0 {
			break
		}
	}
	if roll.Once(2) {
		c.happen(roll)
	}
	c.pin(roll)
	c.ease(roll)
	if part := &s.Programmes[0].Parts[0]; roll.Once(4) {
		days := roll(s.Habits.FreshDays + 1)
		part.ReadyDays = &days
	}
	return c
}

// ease has some seasons come after a spell of pain: a light day, then the first
// days of a way back, some in a week with a ceiling. Spells reach the program,
// the written-out program, the audit and the trying of every plan in one way only,
// as caps of days (model.Season.RoomOn); so this, with those caps, is all that
// there is to try.
func (c *Case) ease(roll Die) {
	if !roll.Once(5) {
		return
	}
	l, from := &c.Season.Limits, c.Season.From+model.Date(1+roll(2))
	l.Lights = []model.Dated[model.Minutes]{{Range: model.Range{From: from, To: from}, Value: roll.Minutes(0, 2)}}
	l.Backs = []model.Back{{Last: from - 1, From: from + 1, Level: l.WarmUp + roll.Minutes(0, 3), Full: l.Playing.Every,
		Weeks: []model.Minutes{model.NoLimit, l.WarmUp + roll.Minutes(0, 2)}}}
}

func tinyLimits(roll Die) model.Limits {
	l := model.DefaultLimits()
	l.Playing.Every = roll.Minutes(2, 6)
	l.WarmUp = roll.Minutes(0, 1)
	l.Playing.Every += l.WarmUp
	l.Listening = roll.Minutes(1, 3)
	l.Passages = roll.Between(1, 3)
	l.Heavy = roll.Between(4, 10) * 10
	l.Rise = []int{0, 10, 30, 33}[roll(4)]
	l.RiseFloor = roll.Minutes(0, 2)
	l.NewOnConcerts = l.Passages == 2
	l.TwoServices = l.RiseFloor
	l.WarmUpAgain = model.Minutes(5 * (l.Passages / 3))
	l.Return = model.Return{After: l.Heavy / 10 % 3, First: 50, Rise: 5}
	if roll.Once(2) {
		l.RestDays = []time.Weekday{time.Weekday(roll(7))}
	}
	return l
}

func tinyHabits(roll Die, z Size) model.Habits {
	h := model.DefaultHabits()
	h.Visits = [4]int{0, min(z.Visits, 1+roll(3)), min(z.Visits, 2+roll(2)), z.Visits}
	h.First = [4]model.Minutes{0, roll.Minutes(1, 2), 10, 15}
	h.LeastGaps = []int{1, roll.Between(1, 2), roll.Between(1, 2)}
	h.PreferredGaps = []int{roll.Between(1, 2), roll.Between(1, 3)}
	h.ReadyDays, h.FreshDays, h.LastDays = roll(5), roll.Between(1, 5), roll.Between(2, 5)
	h.VisitValues = []int{roll.Between(1, 4), roll.Between(0, 3), roll.Between(0, 2)}
	h.ListenValue, h.ReadValue, h.RecordValue = roll(4), roll(6), roll(3)
	return h
}

func tinyPart(roll Die, s *model.Season, passages int, z Size) model.Part {
	q := model.Part{ID: "w", Arrives: s.From + model.Date(roll(3)), Listening: roll.Minutes(0, 2), ReadThrough: roll.Minutes(1, 2), Recordings: roll.Minutes(0, 1)}
	if s.Limits.Listening == 5 && q.Listening > 0 && q.ReadThrough == 5 { // an opera
		q.Listening += 5
	}
	for i := range passages {
		v := model.Passage{ID: string(rune('k' + i)), Hard: roll.Between(1, 3), Exposed: roll.Once(3)}
		if roll.Once(3) {
			for range roll.Between(1, z.Visits) {
				v.Visits = append(v.Visits, roll.Minutes(1, 3))
			}
		}
		if roll.Once(5) {
			v.Due = s.From + model.Date(roll.Between(3, s.Days()))
		}
		if roll.Once(5) {
			v.Found = s.From + model.Date(roll(4))
		}
		q.Passages = append(q.Passages, v)
	}
	return q
}

// Solvable tells by CP-SAT whether a written-out program has a point.
func Solvable(t *testing.T, l *cpsat.Library, program *mip.Model) bool {
	m, err := cpsat.FromMIP(program, cpsat.WholeReals())
	if err != nil {
		t.Fatal(err)
	}
	a, err := l.Solve(t.Context(), m, cpsat.Params{})
	if err != nil {
		t.Fatal(err)
	}
	_, found := a.Solution()
	return found
}

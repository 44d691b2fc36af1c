package solver

import (
	"context"
	"math/rand/v2"
	"testing"
	"time"

	"pgregory.net/rapid"

	"primaprova/model"
	"primaprova/solver/cpsat"
	"primaprova/solver/highs"
	"primaprova/solver/mip"
	"primaprova/solver/ortools"
)

// highsLibrary loads HiGHS from where make test puts it.
func highsLibrary(t testing.TB) *highs.Library {
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

// cpsatLibrary loads CP-SAT likewise.
func cpsatLibrary(t testing.TB) *cpsat.Library {
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
type die func(n int) int

// dieOf rolls with a seed, so that a failing season can be named by a number.
func dieOf(seed int) die {
	r := rand.New(rand.NewPCG(uint64(seed), 0x74696e79))
	return r.IntN
}

// drawn lets rapid choose the seed: its own draws keep to small numbers, which
// make poor seasons.
func drawn(t *rapid.T) die { return dieOf(rapid.Int().Draw(t, "seed")) }

func (d die) between(lo, hi int) int               { return lo + d(hi-lo+1) }
func (d die) once(in int) bool                     { return d(in) == in-1 }
func (d die) steps(lo, hi int) int                 { return 5 * d.between(lo, hi) }
func (d die) minutes(lo, hi int) (m model.Minutes) { return model.Minutes(d.steps(lo, hi)) }

// tinySize says how large a tiny season may be.
type tinySize struct{ days, passages, visits int }

// tiny is a season small enough to try everything, with a record and a standing
// plan in some: rest days, days off, services, hours, pins, own due dates,
// passages found later, dropped or to be learned again.
type tiny struct {
	season   *model.Season
	history  *model.History
	standing *model.Plan
}

func (c *tiny) problem() *problem { return build(c.season, c.history, c.standing) }

func tinySeason(roll die, z tinySize) *tiny {
	c := &tiny{season: &model.Season{TimeZone: "Europe/Oslo", Limits: tinyLimits(roll), Habits: tinyHabits(roll, z)}}
	s := c.season
	s.From = model.NewDate(2027, time.January, 11) + model.Date(roll(3)) // a Monday, or not
	n := roll.between(max(4, z.days-3), z.days)
	s.To = s.From + model.Date(n-1)
	if roll.once(6) {
		s.Limits.DaysOff = []model.Range{{From: s.From + model.Date(roll(n)), To: s.From + model.Date(roll(n))}}
	}
	if roll.once(4) {
		s.Limits.Playing.Dates = []model.Dated[model.Minutes]{{Range: model.Range{From: s.From + 1, To: s.From + 3}, Value: roll.minutes(0, 6)}}
	}
	if roll.once(5) {
		s.Hours.Every = []model.Span{{From: 600, To: model.Clock(600 + roll.steps(3, 9))}}
	}
	passages := z.passages
	for i := range roll.between(1, min(2, passages)) {
		p := model.Programme{ID: string(rune('a' + i))}
		first := s.From + model.Date(roll.between(n-2, n+1))
		p.Services = append(p.Services, model.Service{Kind: model.Rehearsal, Date: first, Start: 600, Lasts: 60, Playing: 50})
		if roll.once(3) {
			p.Services = append(p.Services, model.Service{Kind: model.Concert, Date: s.From + model.Date(roll(n)), Start: 620, Lasts: 40, Playing: 25 * roll(5)})
		}
		own := passages
		if i == 0 && passages > 1 {
			own = roll.between(1, passages-1)
		}
		passages -= own
		p.Parts = append(p.Parts, tinyPart(roll, s, own, z))
		s.Programmes = append(s.Programmes, p)
		if passages == 0 {
			break
		}
	}
	if roll.once(2) {
		c.happen(roll)
	}
	c.pin(roll)
	c.ease(roll)
	return c
}

// ease has some seasons come after a spell of pain: a light day, then the first
// days of a way back, some in a week with a ceiling. Spells reach the program,
// the written-out program, the audit and the trying of every plan in one way only,
// as caps of days (model.Season.RoomOn); so this, with those caps, is all that
// there is to try.
func (c *tiny) ease(roll die) {
	if !roll.once(5) {
		return
	}
	l, from := &c.season.Limits, c.season.From+model.Date(1+roll(2))
	l.Lights = []model.Dated[model.Minutes]{{Range: model.Range{From: from, To: from}, Value: roll.minutes(0, 2)}}
	l.Backs = []model.Back{{Last: from - 1, From: from + 1, Level: l.WarmUp + roll.minutes(0, 3), Full: l.Playing.Every,
		Weeks: []model.Minutes{model.NoLimit, l.WarmUp + roll.minutes(0, 2)}}}
}

func tinyLimits(roll die) model.Limits {
	l := model.DefaultLimits()
	l.Playing.Every = roll.minutes(2, 6)
	l.WarmUp = roll.minutes(0, 1)
	l.Playing.Every += l.WarmUp
	l.Listening = roll.minutes(1, 3)
	l.Passages = roll.between(1, 3)
	l.Heavy = roll.between(4, 10) * 10
	l.Rise = []int{0, 10, 30, 33}[roll(4)]
	l.RiseFloor = roll.minutes(0, 2)
	l.NewOnConcerts = l.Passages == 2
	l.TwoServices = l.RiseFloor
	l.Return = model.Return{After: l.Heavy / 10 % 3, First: 50, Rise: 5}
	if roll.once(2) {
		l.RestDays = []time.Weekday{time.Weekday(roll(7))}
	}
	return l
}

func tinyHabits(roll die, z tinySize) model.Habits {
	h := model.DefaultHabits()
	h.Visits = [4]int{0, min(z.visits, 1+roll(3)), min(z.visits, 2+roll(2)), z.visits}
	h.First = [4]model.Minutes{0, roll.minutes(1, 2), 10, 15}
	h.LeastGaps = []int{1, roll.between(1, 2), roll.between(1, 2)}
	h.PreferredGaps = []int{roll.between(1, 2), roll.between(1, 3)}
	h.ReadyDays, h.FreshDays, h.LastDays = roll(5), roll.between(1, 5), roll.between(2, 5)
	h.VisitValues = []int{roll.between(1, 4), roll.between(0, 3), roll.between(0, 2)}
	h.ListenValue, h.ReadValue, h.RecordValue = roll(4), roll(6), roll(3)
	return h
}

func tinyPart(roll die, s *model.Season, passages int, z tinySize) model.Part {
	q := model.Part{ID: "w", Arrives: s.From + model.Date(roll(3)), Listening: roll.minutes(0, 2), ReadThrough: roll.minutes(1, 2), Recordings: roll.minutes(0, 1)}
	for i := range passages {
		v := model.Passage{ID: string(rune('k' + i)), Hard: roll.between(1, 3), Exposed: roll.once(3)}
		if roll.once(3) {
			for range roll.between(1, z.visits) {
				v.Visits = append(v.Visits, roll.minutes(1, 3))
			}
		}
		if roll.once(5) {
			v.Due = s.From + model.Date(roll.between(3, s.Days()))
		}
		if roll.once(5) {
			v.Found = s.From + model.Date(roll(4))
		}
		q.Passages = append(q.Passages, v)
	}
	return q
}

// solvable tells by CP-SAT whether a written-out program has a point.
func solvable(t *testing.T, l *cpsat.Library, program *mip.Model) bool {
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

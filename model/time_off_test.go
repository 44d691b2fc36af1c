package model_test

import (
	"testing"

	"pgregory.net/rapid"

	"primaprova/model"
	"primaprova/model/invent"
)

// TestTimeOffKnownOrRecorded: the same days without playing ask the same of the days
// after them, whether they stand in the season file, their services excused, or were
// recorded afterwards; and where services on them are played they are no time off.
func TestTimeOffKnownOrRecorded(t *testing.T) {
	backs, served := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		z := invent.Grown(rapid.IntRange(8, 12).Draw(t, "weeks"), 0, true, rapid.Uint64Range(0, 1<<16).Draw(t, "season"))
		z.Off, z.Hours = 0, rapid.Bool().Draw(t, "hours")
		s := invent.Season(z)
		s.Limits.Return.After = rapid.IntRange(1, 14).Draw(t, "after")
		s.Limits.Return.Ill = s.Limits.Return.After // so that both begin the way back after as many days
		from := s.From + model.Date(rapid.IntRange(14, 30).Draw(t, "from"))
		off := model.Range{From: from, To: from + model.Date(rapid.IntRange(0, 20).Draw(t, "days"))}
		today := off.To + 1
		h := func(days map[model.Date]model.DayNote, missed map[model.Date]bool) *model.History {
			out := &model.History{Today: today, Days: days, Missed: missed, Played: map[model.Date]model.Minutes{}}
			for d := s.From; d < from; d++ {
				out.Played[d] = model.Minutes(10 + 7*int(d)%50)
			}
			return out
		}
		lost, missed := map[model.Date]model.DayNote{}, map[model.Date]bool{}
		for d := off.From; d <= off.To; d++ {
			lost[d], missed[d] = model.Lost, true
		}
		known := *s
		known.Limits.DaysOff = []model.Range{off}
		known.Programmes = append([]model.Programme(nil), s.Programmes...)
		played := false
		for i := range known.Programmes { // as the season file has what is excused
			p := &known.Programmes[i]
			p.Services = append([]model.Service(nil), p.Services...)
			for k := range p.Services {
				if off.Holds(p.Services[k].Date) {
					p.Services[k].Missed, played = true, true
				}
			}
		}
		recorded, stands := s.With(h(lost, missed)), known.With(h(nil, nil))
		for d := today; d <= s.To; d++ {
			a, b := recorded.RoomOn(d), stands.RoomOn(d)
			if a != b {
				t.Fatalf("%v, after %v off: recorded %+v, known beforehand %+v", d, off, a, b)
			}
			if a.Marks.Has(model.AfterTimeOff) {
				backs++
			}
		}
		if !played {
			return
		}
		served++
		known.Programmes = s.Programmes // the services are played after all
		stands = known.With(h(nil, nil))
		run, longest := 0, 0 // days off without a service played
		for d := off.From; d <= off.To; d++ {
			if run++; stands.RoomOn(d).Services > 0 {
				run = 0
			}
			longest = max(longest, run)
		}
		if r := stands.RoomOn(today); longest < s.Limits.Return.After && r.Marks.Has(model.AfterTimeOff) {
			t.Fatalf("%v: %d days at most without a service are time off: %+v", today, longest, r)
		}
	})
	if backs < 100 || served < 20 {
		t.Errorf("only %d days of a way back and %d times off with services were looked at", backs, served)
	}
}

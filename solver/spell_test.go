package solver

import (
	"testing"

	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver/tiny"
)

// TestNoLightDayGetsHeavier: seasons planned, played and stopped by pain or an
// illness on a random day, then planned again. Worked out here anew from the
// plans: no light day holds more than its share of what stood on it before, and
// on the way back no day more than what was usual before, in the first day's
// share, and ten minutes more for each day on which it rises.
func TestNoLightDayGetsHeavier(t *testing.T) {
	lights, backs := 0, 0
	for seed := range uint64(60) {
		r := tiny.DieOf(int(seed))
		z := invent.Grown(8, 0, seed%2 == 0, seed)
		z.Passages, z.Hours = 5, seed%3 == 0
		s := invent.Season(z)
		before, err := Greedy(s, Options{})
		if err != nil {
			t.Fatal(err)
		}
		stood := playing(before)
		day := s.From + model.Date(7+r(s.Days()-14))
		e := model.Event{Entry: 1, Kind: model.Pain, Date: day}
		if r.Once(2) {
			e.Last = day + model.Date(r(4))
		}
		if r.Once(3) {
			e.Kind, e.Last = model.DayLost, day+model.Date(2+r(12))
		}
		last := max(day, e.Last)
		for d := day + 1; e.Kind == model.Pain && d <= s.To; d++ {
			e.Stood = append(e.Stood, model.DayMinutes{Date: d, Minutes: stood[d]})
		}
		if faults := e.Check(); len(faults) > 0 {
			t.Fatal(faults)
		}
		h, _, _ := s.Resume([]model.Event{e}, before, model.Replaying{Today: day, TakeAsDone: true})
		season := s.With(h)
		after, err := Greedy(season, Options{History: h, Standing: before})
		if err != nil {
			t.Fatalf("season %d: %v", seed, err)
		}
		now := playing(after)
		for d := day; d <= min(last, s.To); d++ {
			for _, v := range after.Sessions {
				if v.Date == d && d >= h.Today {
					t.Fatalf("season %d: %s is planned on %v, which is taken", seed, v.ID, d)
				}
			}
		}
		l := &season.Limits
		from, share := last+1, l.Return.First
		if e.Kind == model.Pain {
			for d := from; d < from+model.Date(l.LightDays) && d <= s.To; d++ {
				lights++
				if most := stood[d] * model.Minutes(l.Light) / 100; now[d] > most {
					t.Errorf("season %d: %v holds %v after pain, %v stood on it", seed, d, now[d], stood[d])
				}
			}
			from, share = from+model.Date(l.LightDays), l.Light
		} else if int(last-day)+1 < l.Return.Ill {
			continue
		}
		var sum, fullest, days model.Minutes
		for d := max(s.From, day-28); d < day; d++ {
			all := s.RoomOn(d).Services
			if h.Played[d] > 0 {
				all += h.Played[d] + l.WarmUp
			}
			if all > 0 {
				sum, days, fullest = sum+all, days+1, max(fullest, all)
			}
		}
		if days < 5 || sum == 0 {
			continue
		}
		level := sum / days * model.Minutes(share) / 100
		if e.Kind == model.Pain {
			level = l.WarmUp + max(0, sum/days-l.WarmUp)*model.Minutes(share)/100
		}
		for d := from; d <= s.To && d < from+56; d++ {
			if most := level + l.Return.Rise*riseDays(int(d-from)); most < fullest && now[d] > 0 {
				backs++
				if all := now[d] + l.WarmUp + season.RoomOn(d).Services; all > most {
					t.Errorf("season %d: %v holds %v on the way back, %v at most", seed, d, all, most)
				}
			}
		}
	}
	if lights < 60 || backs < 60 {
		t.Errorf("only %d light days and %d on the way back were looked at", lights, backs)
	}
}

// riseDays counts the days of a way back, from its second to day n, on which
// playing may rise: the first three of each week.
func riseDays(n int) (rises model.Minutes) {
	for d := 1; d <= n; d++ {
		if (d-1)%7 < 3 {
			rises++
		}
	}
	return rises
}

// playing gives the planned playing of each day, warm-ups apart.
func playing(p *model.Plan) map[model.Date]model.Minutes {
	out := map[model.Date]model.Minutes{}
	for _, v := range p.Sessions {
		if v.Stage.Playing() && v.Stage != model.WarmUpStage {
			out[v.Date] += v.Minutes
		}
	}
	return out
}

package solver

import (
	"testing"

	"pgregory.net/rapid"

	"primaprova/model"
	"primaprova/model/invent"
)

// TestTheWayBackGoesByWhatWasPlayed lives random seasons with days of pain, of
// illness, days that are recorded and days of which the record says nothing, and
// plans again on some of them. What is planned from then on, with what was played
// until then, is held to the limits as they stand in docs/meaning.md, reckoned here
// from the days as they were lived: no light day holds more than its share of what
// stood on it before, no day of a way back more than its step, no week of it more
// than the week before allows. Every plan passes the audit.
func TestTheWayBackGoesByWhatWasPlayed(t *testing.T) {
	seen := &lived{}
	rapid.Check(t, func(t *rapid.T) {
		z := invent.Grown(rapid.IntRange(6, 9).Draw(t, "weeks"), 0, true, rapid.Uint64Range(0, 1<<16).Draw(t, "season"))
		z.Passages, z.Off, z.Hours = 5, 0, rapid.Bool().Draw(t, "hours")
		y := &lived{s: invent.Season(z), played: map[model.Date]model.Minutes{}, pain: map[model.Date]bool{}, lost: map[model.Date]bool{},
			stood: map[model.Date]model.Minutes{}, silenceIsDone: rapid.Bool().Draw(t, "silence is done")}
		if rapid.Bool().Draw(t, "a low cap") { // many small days, so that shares and steps bind
			y.s.Limits.Playing.Every = 75
		}
		plan, err := Greedy(y.s, Options{})
		if err != nil {
			t.Fatal(err)
		}
		y.plan = plan
		what := rapid.SampledFrom([]string{"all", "all", "all", "some", "silence", "silence", "nothing", "pain", "ill", "plan"})
		for d := y.s.From; d < y.s.To-7; d++ {
			do := what.Draw(t, "day")
			if spell := do == "pain" || do == "ill"; spell && d > y.s.From+9 {
				y.stop(d, d+model.Date(rapid.IntRange(0, 9).Draw(t, "more days")), do == "pain")
				y.again(t, d)
			} else if do == "plan" && d > y.s.From {
				y.again(t, d)
			}
			if !y.pain[d] && !y.lost[d] {
				y.live(d, do)
			}
		}
		seen.lights, seen.steps, seen.weeks = seen.lights+y.lights, seen.steps+y.steps, seen.weeks+y.weeks
	})
	if seen.lights < 40 || seen.steps < 40 || seen.weeks < 10 {
		t.Errorf("only %d light days, %d days and %d weeks of a way back were looked at", seen.lights, seen.steps, seen.weeks)
	}
}

// lived is a season with its days as they were lived.
type lived struct {
	s             *model.Season
	plan          *model.Plan
	events        []model.Event
	silenceIsDone bool

	played     map[model.Date]model.Minutes // planned playing, warm-up apart
	stood      map[model.Date]model.Minutes // of days after one of pain: the least that stood planned
	pain, lost map[model.Date]bool

	lights, steps, weeks int // days and weeks that were looked at
}

// live goes through a day as it stands in the plan.
func (y *lived) live(d model.Date, do string) {
	for i := range y.plan.Sessions {
		v := &y.plan.Sessions[i]
		if v.Date != d || v.Stage == model.WarmUpStage {
			continue
		}
		e := model.Event{Entry: len(y.events) + 1, Kind: model.Done, Date: d, Session: v.ID, Planned: v.Minutes}
		took, counts := v.Minutes, true
		switch {
		case do == "some" && i%2 == 0:
			e.Took = v.Minutes + 5
			took = e.Took
		case do == "nothing":
			e.Kind, counts = model.NotDone, false
		case do != "all":
			counts = y.silenceIsDone
			e.Entry = 0
		}
		if e.Entry > 0 {
			y.events = append(y.events, e)
		}
		if counts && v.Stage.Playing() {
			y.played[d] += took
		}
	}
}

// stop records pain or an illness from a day on.
func (y *lived) stop(from, to model.Date, pain bool) {
	to = min(to, y.s.To)
	e := model.Event{Entry: len(y.events) + 1, Kind: model.DayLost, Date: from, Last: to}
	if pain {
		e.Kind = model.Pain
	}
	stands := playing(y.plan)
	for d := from; d <= to; d++ {
		y.pain[d], y.lost[d] = y.pain[d] || pain, y.lost[d] || !pain
	}
	for d := to + 1; d <= min(y.s.To, to+28); d++ {
		e.Stood = append(e.Stood, model.DayMinutes{Date: d, Minutes: stands[d]})
		if had, ok := y.stood[d]; !ok || stands[d] < had {
			y.stood[d] = stands[d]
		}
	}
	y.events = append(y.events, e)
}

// again plans anew and judges what comes of it.
func (y *lived) again(t *rapid.T, today model.Date) {
	h, _, _ := y.s.Resume(y.events, y.plan, model.Replaying{Today: today, TakeAsDone: y.silenceIsDone})
	season := y.s.With(h)
	plan, err := Greedy(season, Options{History: h, Standing: y.plan})
	if err != nil {
		t.Fatalf("%v: %v", today, err)
	}
	if faults := season.Audit(plan, h); len(faults) > 0 {
		t.Fatalf("%v: %v", today, faults)
	}
	y.plan = plan
	now := playing(plan)
	if h.Kept != 0 { // a day that stands counts as done until it is over
		defer func(had model.Minutes) { y.played[h.Kept] = had }(y.played[h.Kept])
		y.played[h.Kept] = now[h.Kept]
	}
	for d := range now {
		if (y.pain[d] || y.lost[d]) && d >= h.Today {
			t.Fatalf("%v: %v is planned on, which is taken", today, d)
		}
	}
	for first := y.s.From; first <= today; first++ {
		if !y.off(first) || y.off(first-1) {
			continue
		}
		last, pain := first, false
		for ; y.off(last); last++ {
			pain = pain || y.pain[last] && !y.lost[last]
		}
		y.judge(t, h.Today, first, last-1, pain, now)
	}
}

func (y *lived) off(d model.Date) bool { return y.pain[d] || y.lost[d] }

// services gives what is played in the services of a day; of lost days nothing is.
func (y *lived) services(d model.Date) model.Minutes {
	if y.lost[d] {
		return 0
	}
	return y.s.RoomOn(d).Services
}

// all gives the playing of a day, with so much of it planned or done.
func (y *lived) all(d model.Date, work model.Minutes) model.Minutes {
	if work > 0 {
		work += y.s.Limits.WarmUp
	}
	return y.services(d) + work
}

// judge holds what is planned from today on to what one spell asks of it.
func (y *lived) judge(t *rapid.T, today, first, last model.Date, pain bool, now map[model.Date]model.Minutes) {
	l, from, share := &y.s.Limits, last+1, y.s.Limits.Return.First
	if pain {
		for d := from; d < from+model.Date(l.LightDays) && d <= y.s.To; d++ {
			if d < today {
				continue
			}
			y.lights++
			if most := y.stood[d] * model.Minutes(l.Light) / 100; now[d] > most {
				t.Fatalf("%v: %v holds %v after pain, %v stood on it", today, d, now[d], y.stood[d])
			}
		}
		from, share = from+model.Date(l.LightDays), l.Light
	} else if int(last-first)+1 < l.Return.Ill {
		return
	}
	var sum, fullest, days model.Minutes
	for d := max(y.s.From, first-28); d < min(first, today); d++ {
		if all := y.all(d, y.played[d]); all > 0 {
			sum, days, fullest = sum+all, days+1, max(fullest, all)
		}
	}
	if days < 5 {
		return
	}
	level := sum / days * model.Minutes(share) / 100
	if pain {
		level = l.WarmUp + max(0, sum/days-l.WarmUp)*model.Minutes(share)/100
	}
	step := func(n int) model.Minutes { return level + l.Return.Rise*riseDays(n) }
	var allowed model.Minutes
	for n := range 7 {
		allowed += min(step(n), fullest)
	}
	for d := from; d <= min(y.s.To, from+55); d++ {
		if most := step(int(d - from)); d >= today && most < fullest && now[d] > 0 {
			y.steps++
			if all := y.all(d, now[d]); all > most {
				t.Fatalf("%v: %v holds %v on the way back, %v at most", today, d, all, most)
			}
		}
	}
	for from += 7; from <= min(today, y.s.To-6, last+49); from += 7 {
		var before, week, ahead model.Minutes
		for d := from; d < from+7; d++ {
			before += y.all(d-7, y.played[d-7])
			if d < today {
				week += y.all(d, y.played[d])
			} else {
				week, ahead = week+y.all(d, now[d]), ahead+now[d]
			}
		}
		if most := max(allowed, before*model.Minutes(100+l.Rise)/100+l.RiseFloor); ahead > 0 {
			y.weeks++
			if week > most {
				t.Fatalf("%v: the week from %v holds %v after %v", today, from, week, before)
			}
		}
	}
}

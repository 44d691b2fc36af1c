package solver

import (
	"testing"

	"pgregory.net/rapid"

	"primaprova/model"
	"primaprova/model/invent"
)

// TestTheWayBackGoesByWhatWasPlayed lives random seasons with days of pain and of
// illness, some until further notice, with time off that is known beforehand, days that
// are recorded and days of which the record says nothing, and plans again on some of
// them. What is planned from then on, with what was played
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
			stood: map[model.Date]model.Minutes{}, away: map[model.Date]bool{}, silenceIsDone: rapid.Bool().Draw(t, "silence is done")}
		if rapid.Bool().Draw(t, "time off") {
			y.s.Limits.Return.After = 8
			y.goAway(y.s.From+model.Date(rapid.IntRange(10, 14).Draw(t, "off from")), rapid.IntRange(6, 12).Draw(t, "days off"))
		}
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
			y.better(d)
			if spell := do == "pain" || do == "ill"; spell && d > y.s.From+9 && y.until == 0 {
				if more := model.Date(rapid.IntRange(0, 9).Draw(t, "more days")); rapid.Bool().Draw(t, "until further notice") {
					y.stop(d, 0, do == "pain")
					y.until, y.openPain = d+more+1, do == "pain"
				} else {
					y.stop(d, d+more, do == "pain")
				}
				y.again(t, d)
			} else if do == "plan" && d > y.s.From {
				y.again(t, d)
			}
			if !y.off(d) {
				y.live(d, do)
			}
		}
		seen.lights, seen.steps, seen.weeks = seen.lights+y.lights, seen.steps+y.steps, seen.weeks+y.weeks
		seen.opens, seen.aways = seen.opens+y.opens, seen.aways+y.aways
	})
	t.Logf("%+v", *seen)
	if seen.lights < 40 || seen.steps < 40 || seen.weeks < 10 || seen.opens < 20 || seen.aways < 5 {
		t.Errorf("only %d light days, %d days and %d weeks of a way back were looked at, %d plans in spells without an end, %d days after time off",
			seen.lights, seen.steps, seen.weeks, seen.opens, seen.aways)
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
	away       map[model.Date]bool // days off by the season file
	until      model.Date          // the day on which a spell without an end will be over; 0: there is none
	openPain   bool                // that is one of pain

	lights, steps, weeks, opens, aways int // what was looked at
}

// goAway has time off stand in the season file, without services on it.
func (y *lived) goAway(from model.Date, n int) {
	off := model.Range{From: from, To: from + model.Date(n-1)}
	y.s.Limits.DaysOff = append(y.s.Limits.DaysOff, off)
	for d := off.From; d <= off.To; d++ {
		y.away[d] = true
	}
	for i := range y.s.Programmes {
		for k := range y.s.Programmes[i].Services {
			if v := &y.s.Programmes[i].Services[k]; off.Holds(v.Date) {
				v.Missed = true
			}
		}
	}
}

// better goes on with a spell without an end, or ends it.
func (y *lived) better(d model.Date) {
	switch {
	case y.until == 0:
	case d < y.until:
		y.pain[d], y.lost[d] = y.pain[d] || y.openPain, y.lost[d] || !y.openPain
	default:
		y.events = append(y.events, model.Event{Entry: len(y.events) + 1, Kind: model.Better, Date: d})
		y.until = 0
	}
}

// openUntil marks the week that a spell without an end is taken to last from today
// on, and gives how to take the marks away again.
func (y *lived) openUntil(today model.Date) (undo func()) {
	if y.until == 0 {
		return func() {}
	}
	y.opens++
	marks := y.lost
	if y.openPain {
		marks = y.pain
	}
	var added []model.Date
	for d := today; d < min(today+7, y.s.To+1); d++ {
		if !marks[d] {
			marks[d], added = true, append(added, d)
		}
	}
	return func() {
		for _, d := range added {
			delete(marks, d)
		}
	}
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

// stop records pain or an illness from a day on; to is 0 for one until further notice.
func (y *lived) stop(from, to model.Date, pain bool) {
	e := model.Event{Entry: len(y.events) + 1, Kind: model.DayLost, Date: from, Last: min(to, y.s.To), Open: to == 0}
	to = max(from, e.Last)
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
	defer y.openUntil(today)()
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
		if y.off(d) && d >= h.Today {
			t.Fatalf("%v: %v is planned on, which is taken", today, d)
		}
	}
	for first := y.s.From; first <= today; first++ {
		if !y.off(first) || y.off(first-1) {
			continue
		}
		last, pain, ill := first, false, false
		for ; y.off(last); last++ {
			pain, ill = pain || y.pain[last] && !y.lost[last], ill || y.lost[last]
		}
		y.judge(t, h.Today, first, last-1, pain, ill, now)
	}
}

func (y *lived) off(d model.Date) bool { return y.pain[d] || y.lost[d] || y.away[d] }

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
func (y *lived) judge(t *rapid.T, today, first, last model.Date, pain, ill bool, now map[model.Date]model.Minutes) {
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
	} else if n := int(last-first) + 1; ill && n < l.Return.Ill || !ill && n < l.Return.After {
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
			if y.steps++; !pain && !ill {
				y.aways++
			}
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

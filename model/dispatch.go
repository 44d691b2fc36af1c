package model

import (
	"cmp"
	"slices"
)

// A dispatch list is a day in the order of what can wait least: what the plan has on
// it, and what may come forward to it because the days ahead may not hold it once
// some of them are lost, sessions run long or checks fail. A plan takes
// estimates as certain and leaves days even; whoever goes by the list instead is
// ahead where it is tight, with fuller days for it. It goes by the record and the rules;
// the plan only says what was to be played today, whatever happens.
//
// Order: what a part that can be whole asks for, before what goes on in one that
// can't; then the last day on which it could still lie, counted back over the least
// gaps of the visits after it (priority to the least slack: Davis and Patterson,
// Management Science 21, 944-955, 1975, from memory); of equals the part with the
// least playing left, so that it is done with.
//
// Pace: with need(b) the playing whose last day is b at most, the least even share
// of their room at which days from today on keep every date is
//
//	φ = max over days b of need(b) / Σ room(today..b)
//
// (Yao, Demers and Shenker, 36th Symposium on Foundations of Computer Science,
// 374-382, 1995, for processors; from memory). Today gets ahead·φ of its room, and what
// the plan has on it at least.

const (
	// ahead is by how much, in percent, the pace is above what estimates alone ask for:
	// sessions run over, days are lost, passages are found. Common practice, no source.
	ahead = 150
	// spare is what more than its minutes, in percent, a session that comes forward
	// finds left of the day when it is begun: the day's cap is no goal.
	spare = 25
	// beyond is by how much, in percent, the list of a day that should be full is longer
	// than the day, for sessions that turn out shorter.
	beyond = 50
	// soon is within how many days after today what can't wait has its last day. Common
	// practice, no source; what others do stands in docs/lab.md.
	soon = 2
)

// Dispatched is a session of a dispatch list.
type Dispatched struct {
	Slot
	Stands Date // the day on which the plan has it; zero: on none
}

// Dispatch is a day's dispatch list. Minutes are of playing, warm-up apart.
type Dispatch struct {
	Date     Date
	Sessions []Dispatched // in their order; those whose Stands is another day come forward
	Planned  Minutes      // what the plan has on the day, without what was done
	Done     Minutes      // what was played, beside services
	Pace     Minutes      // to be played for the dates to be kept, at most what the day holds
	Most     Minutes      // what the day holds
}

// Forward tells whether a session comes forward.
func (d *Dispatch) Forward(x *Dispatched) bool { return x.Stands != d.Date }

// Pressing gives the session for which a day sheet should point to the list: it comes forward and can't wait,
// while playing that the plan has on the day can wait longer. Nil where there is none.
func (d *Dispatch) Pressing() *Dispatched {
	var out *Dispatched
	longest := d.Date
	for i := range d.Sessions {
		switch x := &d.Sessions[i]; {
		case !x.Stage.Playing():
		case !d.Forward(x):
			longest = max(longest, x.Last)
		case x.Last <= d.Date+soon && (out == nil || x.Last < out.Last):
			out = x
		}
	}
	if out == nil || longest <= out.Last {
		return nil
	}
	return out
}

// Spared gives the minutes that must be left of the day when it is begun.
func (d *Dispatch) Spared(x *Dispatched) Minutes {
	if !d.Forward(x) {
		return x.Minutes
	}
	return (x.Minutes*(100+spare) + 99) / 100
}

// Dispatch gives the dispatch list of today. Nothing comes forward to a light day.
func (s *Season) Dispatch(p *Plan, h *History) Dispatch {
	today := s.Today(h)
	out := Dispatch{Date: today}
	if !s.Holds(today) {
		return out
	}
	room, stands := s.RoomOn(today), map[string]Date{} // by session
	if p != nil {
		for i := range p.Sessions {
			if v := &p.Sessions[i]; v.Date >= today {
				stands[v.ID] = v.Date
			}
		}
	}
	most := s.playingRooms(today)
	out.Most = most[today-s.From]
	visits, listening := room.Passages, room.Listening
	if h != nil {
		out.Done = h.Played[today]
		for _, days := range h.Visits {
			if slices.Contains(days, today) {
				visits--
			}
		}
	}
	slots := s.Slots(h)
	var next []Dispatched
	for i := range slots {
		x := Dispatched{slots[i], stands[slots[i].ID]}
		switch {
		case x.First != today || x.Last < today: // it can't be had today
		case x.Stands != today:
			if x.Stage != RecordingsStage { // for which late is right
				next = append(next, x)
			}
		default:
			out.Sessions = append(out.Sessions, x)
			if !x.Stage.Playing() {
				listening -= x.Minutes
				break
			}
			out.Planned += x.Minutes
			if x.Stage == PassageStage {
				visits--
			}
		}
	}
	before := dispatching(slots)
	slices.SortStableFunc(next, before)
	out.Pace = min(out.Most, Minutes(ahead*leastShare(slots, most, s.From, today)*float64(out.Most)/100))
	goal := out.Pace
	if goal == out.Most {
		goal = out.Most * (100 + beyond) / 100
	}
	unheard := map[string]int{} // part -> its listening that is not on the list
	for i := range slots {
		if slots[i].Stage == ListeningStage {
			unheard[slots[i].Part]++
		}
	}
	for _, x := range out.Sessions {
		if x.Stage == ListeningStage {
			unheard[x.Part]--
		}
	}
	for sum := out.Done + out.Planned; len(next) > 0 && out.Most > 0 && !room.Marks.Has(LightDay); next = next[1:] {
		switch x := &next[0]; {
		case !x.Stage.Playing():
			if x.Minutes > listening || out.Pace < out.Most && x.Last >= today+7 {
				continue
			}
			listening -= x.Minutes
			unheard[x.Part]--
		case sum >= goal || x.Stage == ReadStage && unheard[x.Part] > 0 || x.Stage == PassageStage && visits <= 0:
			continue
		default:
			sum += x.Minutes
			if x.Stage == PassageStage {
				visits--
			}
		}
		out.Sessions = append(out.Sessions, next[0])
	}
	slices.SortStableFunc(out.Sessions, before)
	return out
}

// leastShare gives φ, with the room of days from a date on, none before today.
func leastShare(slots []Slot, room []Minutes, from, today Date) (most float64) {
	due := make([]Minutes, len(room))
	for i := range slots {
		if t := &slots[i]; t.Stage.Playing() && t.First <= t.Last {
			due[t.Last-from] += t.Minutes
		}
	}
	var need, has Minutes
	for b := today - from; int(b) < len(room); b++ {
		if need, has = need+due[b], has+room[b]; has > 0 {
			most = max(most, float64(need)/float64(has))
		}
	}
	return most
}

// dispatching gives the order of a list, by all slots of the season.
func dispatching(slots []Slot) func(a, b Dispatched) int {
	left, broken := map[string]Minutes{}, map[string]bool{}
	for i := range slots {
		if t := &slots[i]; t.Stage.Playing() {
			left[t.Part] += t.Minutes
			out := t.LeftOut()
			broken[t.Part] = broken[t.Part] || t.Last < t.First && !out.upkeep()
		}
	}
	waits := func(x *Dispatched) int {
		if x.GivesWay || broken[x.Part] && x.Visit > sparing {
			return 1
		}
		return 0
	}
	return func(a, b Dispatched) int {
		return cmp.Or(waits(&a)-waits(&b), cmp.Compare(a.Last, b.Last), cmp.Compare(left[a.Part], left[b.Part]))
	}
}

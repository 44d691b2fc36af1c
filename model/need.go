package model

import (
	"cmp"
	"slices"
)

// Need sets what a programme's parts still ask for against what the days
// before its first rehearsal leave, in playing minutes.
type Need struct {
	Programme      string
	FirstRehearsal Date
	Need           Minutes // read-throughs and visits of its parts that lie ahead
	Room           Minutes // room from the day the first of its parts is there (or today) to the day before the first rehearsal
	Past           Minutes // of Need: what has no day left
	// The tightest stretch of days that ends when something of this programme
	// is due: TightestNeed is the work of all programmes that has to be done
	// within it, TightestRoom the stretch's room. Zero when nothing lies ahead.
	Tightest                   Range
	TightestNeed, TightestRoom Minutes
}

// Short gives the minutes that are certain not to fit the tightest stretch.
func (n Need) Short() Minutes { return max(0, n.TightestNeed-n.TightestRoom) }

// Needs gives each programme that has parts, by its first rehearsal, without
// solving anything. The history may be nil.
//
// A stretch that is short proves that something is left out. One that is not
// proves nothing the other way: the demand test lets work be split freely, and
// gaps, orders and numbers of passages come on top.
func (s *Season) Needs(h *History) []Need {
	today := s.Today(h)
	rooms := s.playingRooms(today)
	var out []Need
	var jobs []job
	for _, w := range s.Work(h) {
		if w.past() {
			continue
		}
		if len(out) == 0 || out[len(out)-1].Programme != w.Programme.ID {
			out = append(out, Need{Programme: w.Programme.ID, FirstRehearsal: w.Programme.FirstRehearsal()})
		}
		for _, j := range s.jobs(&w, today) {
			n := &out[len(out)-1]
			n.Need += j.minutes
			if j.last < j.first {
				n.Past += j.minutes
				continue
			}
			j.group = len(out) - 1
			jobs = append(jobs, j)
		}
	}
	for i := range out {
		n := &out[i]
		from := s.arrival(n.Programme, today)
		for d := from; d < min(n.FirstRehearsal, s.To+1); d++ {
			n.Room += rooms[d-s.From]
		}
	}
	for g, t := range demandTest(jobs, rooms, len(out), leastSlack) {
		if t.need > 0 {
			out[g].Tightest = Range{s.From + Date(t.first), s.From + Date(t.last)}
			out[g].TightestNeed, out[g].TightestRoom = t.need, t.room
		}
	}
	slices.SortStableFunc(out, func(a, b Need) int { return cmp.Compare(a.FirstRehearsal, b.FirstRehearsal) })
	return out
}

// jobs gives a part's playing that lies ahead, in days of the season: each
// with the first and the last day on which it may lie, last before first
// where no day is left.
func (s *Season) jobs(w *PartWork, today Date) []job {
	var out []job
	add := func(m Minutes, days Range) {
		if m > 0 {
			out = append(out, s.job(m, days, today))
		}
	}
	if w.Read == 0 && !w.Over {
		add(w.Part.ReadThrough, w.Window)
	}
	for i := range w.Passages {
		p := &w.Passages[i]
		if p.Over {
			continue
		}
		add(RecipeMinutes(p.Recipe[min(len(p.Done), len(p.Recipe)):]), w.VisitDays(p))
	}
	return out
}

// job is work that may lie on some days from today on.
func (s *Season) job(m Minutes, days Range, today Date) job {
	return job{minutes: m, first: int(max(days.From, today) - s.From), last: int(days.To - s.From)}
}

// arrival gives the day, today or later, from which the first part of a
// programme is there.
func (s *Season) arrival(programme string, today Date) Date {
	first := s.To + 1
	for i := range s.Programmes {
		if s.Programmes[i].ID == programme {
			for j := range s.Programmes[i].Parts {
				first = min(first, s.Programmes[i].Parts[j].Arrives)
			}
		}
	}
	return max(first, today)
}

// rooms gives the room of each day of the season.
func (s *Season) rooms() []Room {
	out := make([]Room, s.Days())
	for i := range out {
		out[i] = s.RoomOn(s.From + Date(i))
	}
	return out
}

// playingRooms gives the planned playing that each day of the season holds, none before
// today.
func (s *Season) playingRooms(today Date) []Minutes {
	out := make([]Minutes, s.Days())
	for i, r := range s.rooms() {
		if r.Date >= today {
			out[i] = min(r.Playing, max(0, r.Held-r.WarmUp))
		}
	}
	return out
}

// job is work that may lie on days first..last, counted from 0, split freely.
type job struct {
	minutes     Minutes
	first, last int
	group       int
}

// stretch is a run of days with the work that must be done in it.
type stretch struct {
	first, last int
	need, room  Minutes
}

func (t stretch) slack() Minutes { return t.room - t.need }

// leastSlack prefers the stretch that has least to spare.
func leastSlack(a, b stretch) bool { return a.slack() < b.slack() }

// demandTest gives, for each group, the stretch that is preferred among those
// that end on the last day of one of its jobs (the first one found, the shorter
// ones first; need 0 for a group without jobs). With
//
//	demand(a,b) = Σ minutes of the jobs with a ≤ first and last ≤ b
//
// the jobs fit the days' room exactly when demand(a,b) ≤ Σ room(a..b) for all
// days a ≤ b. Source: Baruah, Rosier, Howell, Real-Time Systems 2, 301-324
// (1990), there for one processor in continuous time. It takes days² + jobs
// steps.
func demandTest(jobs []job, room []Minutes, groups int, prefer func(a, b stretch) bool) []stretch {
	ending := make([][]job, len(room))
	for _, j := range jobs {
		ending[j.last] = append(ending[j.last], j)
	}
	released := make([]Minutes, len(room)) // by first day: work due by b
	out := make([]stretch, groups)
	for b, ends := range ending {
		if len(ends) == 0 {
			continue
		}
		for _, j := range ends {
			released[j.first] += j.minutes
		}
		best := stretch{}
		var need, left Minutes
		for a := b; a >= 0; a-- {
			need, left = need+released[a], left+room[a]
			if t := (stretch{a, b, need, left}); released[a] > 0 && (best.need == 0 || prefer(t, best)) {
				best = t
			}
		}
		for _, j := range ends {
			if g := &out[j.group]; g.need == 0 || prefer(best, *g) {
				*g = best
			}
		}
	}
	return out
}

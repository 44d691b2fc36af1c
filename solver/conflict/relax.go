package conflict

import (
	"slices"

	"primaprova/model"
	"primaprova/solver/instance"
)

// relax gives the instance without some facts, in their order, on a copy: p
// stays as it is. Work is a matter of cut, and that order is kept or not a
// matter of writing the program out; of it only the days of the return to the
// recordings are seen to here. What an instance without a fact allows, one with
// it need not; the other way round never.
func relax(p *instance.Instance, h *model.History, dropped []Fact) *instance.Instance {
	o := *p
	o.Parts, o.Passages = slices.Clone(p.Parts), slices.Clone(p.Passages)
	s := *p.Season
	s.Programmes = slices.Clone(s.Programmes)
	l := &s.Limits
	l.RestDays, l.RestDates, l.DaysOff = slices.Clone(l.RestDays), slices.Clone(l.RestDates), slices.Clone(l.DaysOff)
	l.Playing.Dates = slices.Clone(l.Playing.Dates)
	without := map[factKey]bool{}
	// From the back, so that places in the lists of the season stay true.
	for n := len(dropped) - 1; n >= 0; n-- {
		f := &dropped[n]
		switch f.Kind {
		case CapFact:
			for d := f.Days.From; d <= f.Days.To; d++ { // a date counts before any run of days
				l.Playing.Dates = append(l.Playing.Dates, model.Dated[model.Minutes]{Range: model.Range{From: d, To: d}, Value: model.NoLimit})
			}
		case RestFact:
			if _, weekly := f.Weekday(); weekly {
				l.RestDays = slices.Delete(l.RestDays, f.index, f.index+1)
			} else {
				l.RestDates = slices.Delete(l.RestDates, f.index, f.index+1)
			}
		case OffFact:
			l.DaysOff = slices.Delete(l.DaysOff, f.index, f.index+1)
		case ToursFact:
			l.Tours = slices.Delete(slices.Clone(l.Tours), f.index, f.index+1)
		case BeforeFact:
			l.BeforeConcert = 100
		case TwoFact:
			l.TwoServices = model.NoLimit
		case ReturnFact:
			l.Return.After, l.Backs = 0, backs(l, true)
		case ServicesFact:
			q := &s.Programmes[f.programme]
			q.Services = slices.Clone(q.Services)
			for k := range q.Services {
				q.Services[k].Playing = 0
			}
		case WarmUpFact:
			l.WarmUp, l.WarmUpAgain = 0, 0
		case LightFact:
			l.Lights, l.Stopped, l.Backs = nil, nil, backs(l, false)
		case HoursFact:
			s.Hours = model.ByDay[[]model.Span]{}
		case QuietFact:
			l.Quiet = model.ByDay[[]model.Span]{}
		case LatestFact:
			l.Latest = model.ByDay[model.Clock]{}
		case ApartFact:
			l.ServiceGap = 0
			for i := range s.Programmes {
				q := &s.Programmes[i]
				q.Services = slices.Clone(q.Services)
				for k := range q.Services {
					q.Services[k].Travel = 0
				}
			}
		case BusyFact:
			s.Busy = nil
		case ListeningFact:
			l.Listening = model.NoLimit
		case PassagesFact:
			l.Passages = int(model.NoLimit)
		}
		without[f.key()] = true
	}
	refill(&o, &s, h)
	for i := range o.Parts {
		widen(&o, i, without)
	}
	return &o
}

// backs gives the ways back after pain, or those after anything else.
func backs(l *model.Limits, pain bool) (out []model.Back) {
	for _, b := range l.Backs {
		if b.Pain == pain {
			out = append(out, b)
		}
	}
	return out
}

// factKey tells facts that are not about days apart.
type factKey struct {
	kind  FactKind
	index int // part, programme or pin
}

func (f *Fact) key() factKey {
	switch f.Kind {
	case RehearsalFact, ServicesFact:
		return factKey{f.Kind, f.programme}
	case WorkFact, ArrivalFact, DueFact, FoundFact:
		return factKey{f.Kind, f.part}
	case PinFact:
		return factKey{f.Kind, f.index}
	}
	return factKey{kind: f.Kind}
}

// refill counts the days' rooms anew. A season without a fact has no less
// room; cutting a longer run of free hours into blocks could say otherwise.
func refill(p *instance.Instance, s *model.Season, h *model.History) {
	old := p.Room
	p.Room = make([]instance.DayRoom, p.Days)
	for d := p.Today; d < p.Days; d++ {
		r := s.RoomOn(s.From + model.Date(d))
		p.Room[d] = instance.DayRoom{Playing: int(r.Playing), Listening: int(r.Listening), Visits: r.Passages, Held: max(0, int(r.Held-r.WarmUp))}
	}
	p.DoneToday(p.Season.Past(h, nil))
	for d := range p.Room {
		r := &p.Room[d]
		r.Playing, r.Listening = max(r.Playing, old[d].Playing), max(r.Listening, old[d].Listening)
		r.Visits, r.Held = max(r.Visits, old[d].Visits), max(r.Held, old[d].Held)
	}
}

// widen gives a part and its passages the days they have without some facts.
func widen(p *instance.Instance, i int, without map[factKey]bool) {
	q := &p.Parts[i]
	from := p.Season.From
	arrival, due := without[factKey{ArrivalFact, i}], without[factKey{DueFact, i}]
	found := without[factKey{FoundFact, i}]
	rehearsal := without[factKey{RehearsalFact, programmeOf(p, q)}]
	if arrival {
		q.WinLo = p.Today
		q.RecLo = max(p.Today, int(q.Work.Window.To-from)+1-p.Season.Habits.LastDays)
		if q.ReadDone {
			q.RecLo = max(q.RecLo, int(q.Work.Read-from)+1)
		}
	}
	if rehearsal {
		q.WinHi, q.RecHi = p.Days-1, p.Days-1
	}
	if without[factKey{kind: OrderFact}] {
		q.RecLo = q.WinLo
	}
	unpinned := map[string]bool{}
	for k, pin := range p.Season.Pins {
		if without[factKey{PinFact, k}] {
			unpinned[pin.Session] = true
		}
	}
	for n, st := range instance.Stages {
		if unpinned[model.StageID(q.Work.Name, st)] {
			q.Pin[n] = instance.None
		}
	}
	if len(q.Sits) > 0 && without[factKey{kind: ListeningFact}] {
		q.Listen, q.Sits = q.Sits[len(q.Sits)-1].Minutes, nil // one sitting; how long it is is no matter then
	}
	q.Sits = slices.Clone(q.Sits)
	for k := range q.Sits {
		if unpinned[q.Sits[k].ID] {
			q.Sits[k].Pin = instance.None
		}
	}
	q.Lo, q.Hi = q.WinLo, max(q.WinHi, q.RecHi)
	for k := q.First; k < q.Last; k++ {
		v := &p.Passages[k]
		v.Visits = slices.Clone(v.Visits)
		if arrival || found {
			v.Lo = p.Today
			if !arrival {
				v.Lo = max(v.Lo, int(q.Work.Part.Arrives-from))
			}
			if !found {
				v.Lo = max(v.Lo, int(v.Work.Passage.Found-from))
			}
			if q.ReadDone && v.Done == 0 {
				v.Lo = max(v.Lo, int(q.Work.Read-from)+1)
			}
		}
		own := v.Work.Passage.Due != 0
		if own && due {
			v.Hi = max(v.Hi, int(q.Work.Window.To-from))
			q.RecHi = max(q.RecHi, v.Hi)
		}
		if rehearsal && (!own || due) {
			v.Hi = p.Days - 1
		}
		if without[factKey{kind: OnceFact}] {
			v.InRound, v.Third = false, instance.None
		}
		for j := range v.Visits {
			if without[factKey{kind: GapFact}] {
				v.Visits[j].Least = min(v.Visits[j].Least, 1)
			}
			if without[factKey{kind: NewFact}] {
				v.Visits[j].Barred = nil
			}
			if unpinned[model.VisitID(v.Work.Name, v.Done+j+1)] {
				v.Visits[j].Pin = instance.None
			}
		}
		q.Hi = max(q.Hi, v.Hi)
	}
}

// programmeOf gives the place of a part's programme in the season.
func programmeOf(p *instance.Instance, q *instance.Part) int {
	for n := range p.Season.Programmes {
		if q.Work.Programme == &p.Season.Programmes[n] {
			return n
		}
	}
	return instance.None
}

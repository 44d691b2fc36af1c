package solver

import (
	"slices"

	"primaprova/model"
)

// relax gives the problem without some facts, in their order, on a copy: p
// stays as it is. Work is a matter of cut, and that order is kept or not a
// matter of writing the program out; of it only the days of the return to the
// recordings are seen to here. What a problem without a fact allows, one with
// it need not; the other way round never.
func (p *problem) relax(h *model.History, dropped []Fact) *problem {
	o := *p
	o.parts, o.passages = slices.Clone(p.parts), slices.Clone(p.passages)
	s := *p.season
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
			l.WarmUp = 0
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
	o.refill(&s, h)
	for i := range o.parts {
		o.widen(i, without)
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
func (p *problem) refill(s *model.Season, h *model.History) {
	old := p.room
	p.room = make([]dayRoom, p.days)
	for d := p.today; d < p.days; d++ {
		r := s.RoomOn(s.From + model.Date(d))
		p.room[d] = dayRoom{int(r.Playing), int(r.Listening), r.Passages, max(0, int(r.Held-r.WarmUp))}
	}
	p.doneToday(p.season.Past(h, nil))
	for d := range p.room {
		r := &p.room[d]
		r.playing, r.listening = max(r.playing, old[d].playing), max(r.listening, old[d].listening)
		r.visits, r.held = max(r.visits, old[d].visits), max(r.held, old[d].held)
	}
}

// widen gives a part and its passages the days they have without some facts.
func (p *problem) widen(i int, without map[factKey]bool) {
	q := &p.parts[i]
	from := p.season.From
	arrival, due := without[factKey{ArrivalFact, i}], without[factKey{DueFact, i}]
	found := without[factKey{FoundFact, i}]
	rehearsal := without[factKey{RehearsalFact, p.programmeOf(q)}]
	if arrival {
		q.winLo = p.today
		q.recLo = max(p.today, int(q.work.Window.To-from)+1-p.season.Habits.LastDays)
		if q.readDone {
			q.recLo = max(q.recLo, int(q.work.Read-from)+1)
		}
	}
	if rehearsal {
		q.winHi = p.days - 1
	}
	if without[factKey{kind: OrderFact}] {
		q.recLo = q.winLo
	}
	unpinned := map[string]bool{}
	for k, pin := range p.season.Pins {
		if without[factKey{PinFact, k}] {
			unpinned[pin.Session] = true
		}
	}
	for n, st := range stages {
		if unpinned[model.StageID(q.work.Name, st)] {
			q.pin[n] = none
		}
	}
	q.lo, q.hi = q.winLo, q.winHi
	for k := q.first; k < q.last; k++ {
		v := &p.passages[k]
		v.visits = slices.Clone(v.visits)
		if arrival || found {
			v.lo = p.today
			if !arrival {
				v.lo = max(v.lo, int(q.work.Part.Arrives-from))
			}
			if !found {
				v.lo = max(v.lo, int(v.work.Passage.Found-from))
			}
			if q.readDone && v.done == 0 {
				v.lo = max(v.lo, int(q.work.Read-from)+1)
			}
		}
		own := v.work.Passage.Due != 0
		if own && due {
			v.hi = max(v.hi, int(q.work.Window.To-from))
		}
		if rehearsal && (!own || due) {
			v.hi = p.days - 1
		}
		if without[factKey{kind: OnceFact}] {
			v.inRound, v.third = false, none
		}
		for j := range v.visits {
			if without[factKey{kind: GapFact}] {
				v.visits[j].least = min(v.visits[j].least, 1)
			}
			if without[factKey{kind: NewFact}] {
				v.visits[j].barred = nil
			}
			if unpinned[model.VisitID(v.work.Name, v.done+j+1)] {
				v.visits[j].pin = none
			}
		}
		q.hi = max(q.hi, v.hi)
	}
}

// programmeOf gives the place of a part's programme in the season.
func (p *problem) programmeOf(q *part) int {
	for n := range p.season.Programmes {
		if q.work.Programme == &p.season.Programmes[n] {
			return n
		}
	}
	return none
}

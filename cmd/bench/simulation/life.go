package simulation

import (
	"context"
	"fmt"
	"slices"

	"primaprova/model"
)

// life is one way through a season.
type life struct {
	world  World
	season *model.Season
	way    way
	events []model.Event
	plan   *model.Plan // nil for ways without one
}

// way decides what is tried on a day, in the order in which it is tried.
type way interface {
	name() string
	// day is called each morning with what the record says so far.
	day(ctx context.Context, l *life, d model.Date, s *model.Season, h *model.History) ([]model.Session, error)
}

// outcome is what came of a way.
type outcome struct {
	parts         int
	ready, whole  int
	worth, missed int // value of all sessions wanted, and of those not done
	solved        int // times a plan was made
}

// run lives the season through.
func (l *life) run(ctx context.Context) (outcome, error) {
	var o outcome
	due := map[model.Date][]string{}
	for i := range l.season.Programmes {
		p := &l.season.Programmes[i]
		for j := range p.Parts {
			d := p.FirstRehearsal()
			due[d] = append(due[d], model.PartName(p.ID, p.Parts[j].ID))
		}
	}
	for d := l.season.From; d <= l.season.To; d++ {
		s, h := l.state(d)
		l.judge(&o, due[d], s, h)
		if err := l.live(ctx, d, s, h); err != nil {
			return o, fmt.Errorf("%s, %v: %w", l.way.name(), d, err)
		}
	}
	if r, ok := l.way.(*replanning); ok {
		o.solved = r.solved
	}
	return o, nil
}

// state gives the season and its history on the morning of a day. Everything is
// recorded here, so nothing is taken as done.
func (l *life) state(d model.Date) (*model.Season, *model.History) {
	h, _ := l.season.Replay(l.events, l.plan, model.Replaying{Today: d, Scaled: true})
	return l.season.With(h), h
}

// judge counts the parts whose first rehearsal is today. One is ready when it
// has been read through, every passage has had all of its visits but, at most,
// the check, and none has gone stale since: its last visit lies no more than
// Habits.FreshDays back. It is whole when not even a check is missing, stale or
// not.
func (l *life) judge(o *outcome, parts []string, s *model.Season, h *model.History) {
	if len(parts) == 0 {
		return
	}
	wanted := s.Wanted(h)
	for _, w := range s.Work(h) {
		if !slices.Contains(parts, w.Name) {
			continue
		}
		whole, ready := true, true
		for _, x := range wanted {
			if x.Part == w.Name {
				whole = whole && !x.Stage.Playing()
				ready = ready && (x.Stage != model.ReadStage) && (x.Stage != model.PassageStage || x.Visit == x.Visits)
				o.missed += x.Value
			}
		}
		for _, p := range w.Passages {
			ready = ready && (len(p.Done) == 0 || p.Done[len(p.Done)-1] >= p.Fresh)
		}
		o.parts++
		if whole {
			o.whole++
		}
		if ready {
			o.ready++
		}
	}
	for _, x := range s.Wanted(&model.History{Found: h.Found}) {
		if slices.Contains(parts, x.Part) {
			o.worth += x.Value
		}
	}
}

func (l *life) say(e model.Event) {
	e.Entry = len(l.events) + 1
	l.events = append(l.events, e)
}

// live tries what the way asks for, as long as the day has room, and records
// what came of it.
func (l *life) live(ctx context.Context, d model.Date, s *model.Season, h *model.History) error {
	sessions, err := l.way.day(ctx, l, d, s, h)
	if err != nil {
		return err
	}
	if l.world.lost(d) {
		l.say(model.Event{Kind: model.DayLost, Date: d})
		return nil
	}
	room := s.RoomOn(d)
	playing, listening := room.Playing, room.Listening
	for _, v := range sessions {
		left := &playing
		if !v.Stage.Playing() {
			left = &listening
		}
		e := model.Event{Kind: model.NotDone, Date: d, Session: v.ID, Planned: v.Minutes}
		// What will not fit is not begun; what takes too long is broken off, and
		// the minutes are gone.
		if estimate := v.Minutes; estimate <= *left {
			took := l.world.takes(v.ID, d, l.estimate(s, h, &v))
			if took <= *left {
				e.Kind, e.Took = model.Done, took
			}
			*left -= min(took, *left)
		}
		if e.Kind == model.Done && v.Visit != nil && *v.Visit == *v.Visits && !l.world.holds(*v.Passage, *v.Visit) {
			e.Kind = model.DidNotHold
		}
		l.say(e)
		if e.Kind == model.Done && v.Stage == model.ReadStage {
			l.find(d, v.Part)
		}
	}
	return nil
}

// estimate gives a session's length by the season file, whatever was learnt
// since: what it really takes does not hang on what is thought of it.
func (l *life) estimate(s *model.Season, h *model.History, v *model.Session) model.Minutes {
	plain := *h
	plain.Scaled = false
	for _, w := range s.Wanted(&plain) {
		if w.ID == v.ID {
			return w.Minutes
		}
	}
	return v.Minutes
}

// find lets a read-through find passages.
func (l *life) find(d model.Date, part string) {
	r := l.world.luck("found " + part)
	for n := range 2 {
		if r.Float64() < l.world.Found {
			l.say(model.Event{Kind: model.Found, Date: d, Part: part, Bars: fmt.Sprintf("found-%d", n+1), Hard: 1 + r.IntN(3)})
		}
	}
}

// onDay gives a plan's sessions of a day in the order in which they are played.
func onDay(p *model.Plan, d model.Date) []model.Session {
	var out []model.Session
	for _, v := range p.ByDate()[d] {
		if v.Stage != model.WarmUpStage {
			out = append(out, *v)
		}
	}
	return slices.Clip(out)
}

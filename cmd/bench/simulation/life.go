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
	plan   *model.Plan     // nil for ways without one
	played []model.Minutes // by day of the season, warm-up apart
	o      outcome

	forward map[string]model.Minutes // of what comes forward today, what must be left of the day when it is begun

	morning func(d model.Date) // called when a day's plan stands; may be nil
}

// way decides what is tried on a day, in the order in which it is tried.
type way interface {
	name() string
	// day is called each morning with what the record says so far.
	day(ctx context.Context, l *life, d model.Date, s *model.Season, h *model.History) ([]model.Session, error)
}

// outcome is what came of a way; the package comment says what counts.
type outcome struct {
	parts, ready        int
	stood               map[string]bool // the parts that are ready, by name
	reached             []string        // those of which each passage was worked at as often as its recipe has it, the last check apart
	passages, untouched int
	holding             float64 // passages that hold at the first rehearsal, expected
	worth, missed       int     // value of all sessions wanted, and of those not done
	days, over          int     // days of the season, and those above the cap
	heavy               float64 // the body wish of what was played
	solved              int     // times a plan was made
	listed              int     // days that went by a dispatch list
}

// run lives the season through.
func (l *life) run(ctx context.Context) (outcome, error) {
	s := l.season
	due := map[model.Date][]string{}
	for i := range s.Programmes {
		p := &s.Programmes[i]
		for j := range p.Parts {
			d := p.FirstRehearsal()
			due[d] = append(due[d], model.PartName(p.ID, p.Parts[j].ID))
		}
	}
	l.played = make([]model.Minutes, s.Days())
	for d := s.From; d <= s.To; d++ {
		now, h := l.state(d)
		l.judge(due[d], d, now, h)
		if err := l.live(ctx, d, now, h); err != nil {
			return l.o, fmt.Errorf("%s, %v: %w", l.way.name(), d, err)
		}
	}
	l.o.days = s.Days()
	l.o.heavy = float64(s.Strain().Excess(l.played)) / 100
	if r, ok := l.way.(*replanning); ok {
		l.o.solved = r.solved
	}
	return l.o, nil
}

// state gives the season and its history on the morning of a day. Everything is
// recorded here, so nothing is taken as done.
func (l *life) state(d model.Date) (*model.Season, *model.History) {
	h, _ := l.season.Replay(l.events, l.plan, model.Replaying{Today: d, Scaled: true})
	return l.season.With(h), h
}

// judge looks at the parts whose first rehearsal is today.
func (l *life) judge(parts []string, d model.Date, s *model.Season, h *model.History) {
	if len(parts) == 0 {
		return
	}
	o := &l.o
	plain := *s
	plain.Habits.WholeParts = false // what sessions are worth hangs on no way
	s = &plain
	open := map[string]bool{} // parts with playing left
	eve := *h
	eve.Today = d - 1 // from today on nothing of them is wanted any more
	for _, x := range s.Wanted(&eve) {
		if slices.Contains(parts, x.Part) {
			o.missed += x.Value
			open[x.Part] = open[x.Part] || x.Stage.Playing()
		}
	}
	for _, x := range s.Wanted(&model.History{Found: h.Found}) {
		if slices.Contains(parts, x.Part) {
			o.worth += x.Value
		}
	}
	for _, w := range s.Work(h) {
		if !slices.Contains(parts, w.Name) {
			continue
		}
		o.parts++
		if !open[w.Name] {
			o.ready++
			if o.stood == nil {
				o.stood = map[string]bool{}
			}
			o.stood[w.Name] = true
		}
		reached := w.Read != 0 && w.Read < d
		for _, p := range w.Passages {
			reached = reached && len(p.Done) >= max(1, len(s.Recipe(&p.Passage))-1)
			o.passages++
			o.holding += l.world.retention(s, &p, d)
			if len(p.Done) == 0 {
				o.untouched++
			}
		}
		if reached {
			o.reached = append(o.reached, w.Name)
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
	if l.morning != nil {
		l.morning(d)
	}
	if l.world.lost(d) {
		l.say(model.Event{Kind: model.DayLost, Date: d})
		return nil
	}
	by := map[string]*model.PassageWork{}
	work := s.Work(h)
	for i := range work {
		for j := range work[i].Passages {
			p := &work[i].Passages[j]
			by[p.Name] = p
		}
	}
	estimates := l.estimates(s, h)
	room := s.RoomOn(d)
	playing, listening, passages := room.Playing, room.Listening, room.Passages
	for _, v := range sessions {
		left := &playing
		if !v.Stage.Playing() {
			left = &listening
		}
		spared, more := l.forward[v.ID]
		if max(v.Minutes, spared) > *left || v.Stage == model.PassageStage && passages == 0 {
			if l.plan != nil && !more {
				l.say(model.Event{Kind: model.NotDone, Date: d, Session: v.ID, Planned: v.Minutes})
			}
			continue
		}
		e := model.Event{Kind: model.Done, Date: d, Session: v.ID, Planned: v.Minutes}
		estimate, ok := estimates[v.ID]
		if !ok {
			estimate = v.Minutes
		}
		e.Took = l.world.takes(v.ID, d, estimate)
		*left -= e.Took
		if v.Stage.Playing() {
			l.played[d-l.season.From] += e.Took
		}
		if v.Stage == model.PassageStage {
			passages--
			p := by[*v.Passage]
			if p != nil && *v.Visit == *v.Visits && !l.world.holds(*v.Passage, *v.Visit, l.world.retention(s, p, d)) {
				e.Kind = model.DidNotHold
			}
		}
		l.say(e)
		if v.Stage == model.ReadStage {
			l.find(d, v.Part)
		}
	}
	if playing < 0 {
		l.o.over++
	}
	return nil
}

// estimates gives the sessions' lengths by the season file, whatever was learnt
// since: what one really takes does not hang on what is thought of it.
func (l *life) estimates(s *model.Season, h *model.History) map[string]model.Minutes {
	plain := *h
	plain.Scaled = false
	out := map[string]model.Minutes{}
	for _, w := range s.Wanted(&plain) {
		out[w.ID] = w.Minutes
	}
	return out
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

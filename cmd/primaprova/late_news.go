package main

import (
	"strconv"
	"strings"

	"primaprova/io/seasonfile"
	"primaprova/model"
	"primaprova/model/chance"
)

// news is what late is told.
type news struct {
	arrives, fresh, work, estimate, instead string
	listening, read, recordings             string
	passages                                []string
	try, fromToday                          bool
	form                                    *details
	part                                    string // the one that comes, programme/part; set by edit
}

// edit changes the season as it was told.
func (n *news) edit(a *app, f *seasonfile.File, args []string, today model.Date) (*seasonfile.File, error) {
	if n.arrives == "" {
		return nil, wrong("late: say when it comes with --arrives DATE").then("late --help")
	}
	d, err := a.saidDay(n.arrives, today)
	if err != nil {
		return nil, wrong("--arrives: %v", err)
	}
	if n.fresh == "" {
		if len(args) != 1 {
			return nil, wrong("late: name one part, or a new one with --new").then("late --help")
		}
		if n.work+n.estimate+n.listening+n.read+n.recordings+n.instead != "" || len(n.passages) > 0 {
			return nil, wrong("late: what a part holds is said of a new one, with --new; of others only --arrives").then("late --help")
		}
		name, err := partNamed(f.Season, args[0])
		if err != nil {
			return nil, err
		}
		n.part = name
		out, err := f.SetArrival(name, d)
		if err != nil {
			return nil, editTrouble(err)
		}
		return out, nil
	}
	if len(args) > 0 {
		return nil, wrong("late: there is no use for %s beside --new", args[0]).then("late --help")
	}
	p, err := n.made(f.Season, d)
	if err != nil {
		return nil, err
	}
	programme, id, two := strings.Cut(n.fresh, "/")
	if !two {
		return nil, wrong("--new: %q is not programme/part", n.fresh)
	}
	p.ID, n.part = id, n.fresh
	var out *seasonfile.File
	if n.instead == "" {
		out, err = f.AddPart(programme, *p)
	} else {
		var old string
		if old, err = partNamed(f.Season, n.instead); err != nil {
			return nil, err
		}
		if !strings.HasPrefix(old, programme+"/") {
			return nil, wrong("--instead-of: %s is not in programme %s", old, programme)
		}
		out, err = f.ReplacePart(old, *p)
	}
	if err != nil {
		return nil, editTrouble(err)
	}
	return out, nil
}

// made makes the new part of what was said, the rest by the season's habits.
func (n *news) made(s *model.Season, arrives model.Date) (*model.Part, error) {
	p := &model.Part{Work: n.work, Arrives: arrives, Listening: s.Habits.Listening, ReadThrough: s.Habits.ReadThrough, Recordings: s.Habits.Recordings}
	for _, x := range []struct {
		flag, text string
		to         *model.Minutes
	}{{"estimate", n.estimate, &p.Estimate}, {"listening", n.listening, &p.Listening}, {"read-through", n.read, &p.ReadThrough}, {"recordings", n.recordings, &p.Recordings}} {
		if x.text == "" {
			continue
		}
		m, err := model.ParseMinutes(x.text)
		if err != nil || m < 0 {
			return nil, wrong("--%s: %q is not a length like 80 min or 1 h 20 min", x.flag, x.text)
		}
		*x.to = m
	}
	for _, text := range n.passages {
		q, err := passageOf("--passage", text)
		if err != nil {
			return nil, err
		}
		p.Passages = append(p.Passages, q)
	}
	return p, nil
}

// passageOf reads "45-61, hard, exposed, 8 min".
func passageOf(option, text string) (model.Passage, error) {
	words := strings.Split(text, ",")
	q := model.Passage{Bars: strings.TrimSpace(words[0]), Hard: 2}
	for _, w := range words[1:] {
		switch w = strings.TrimSpace(w); w {
		case "easy":
			q.Hard = 1
		case "ordinary":
			q.Hard = 2
		case "hard":
			q.Hard = 3
		case "exposed":
			q.Exposed = true
		default:
			m, err := model.ParseMinutes(w)
			if err != nil || m <= 0 {
				return q, wrong("%s: %s: %q is none of easy, ordinary, hard, exposed, and no length like 8 min", option, strconv.Quote(text), w)
			}
			q.Minutes = m
		}
	}
	return q, nil
}

// partNamed takes programme/part, or the part alone where only one programme
// has it.
func partNamed(s *model.Season, name string) (string, error) {
	switch found := s.PartsCalled(name); len(found) {
	case 1:
		return found[0], nil
	case 0:
		return "", wrong("%q is no part of the season", name).then("show part")
	default:
		return "", wrong("%q is in more than one programme: %s", name, strings.Join(found, ", "))
	}
}

// mostDays is how many days late shows before it leaves the rest to show
// changes.
const mostDays = 3

// sayLate says what moves, day by day, what is left out, and how sure the part
// is; with --details what it costs each wish.
func (a *app) sayLate(w *view, f *seasonfile.File, h *happened, standing, p *model.Plan, n *news) {
	v := a.say
	v.title("%s: what moves", w.Season.Title)
	c := w.changes(standing, p, h.today).toPlay(h.today)
	days := mostDays
	if n.form.all {
		days = 0
	}
	w.sayChanges(c, days)
	v.space()
	if c.of > 0 {
		n := c.movedBeside(n.part)
		v.line("Other parts: %s moved, %.1f %% of what lies ahead.", several(n, "session", "sessions"), 100*float64(n)/float64(c.of))
	}
	w.sayMissing(standing)
	before := newView(v, f.Season.With(h.history), standing, h.history)
	if was, is := before.chanceOf(n.part), w.chanceOf(n.part); is != "" {
		if was != "" && was != is {
			is += ", before " + was
		}
		v.line("%s is ready in time with a chance of %s; why %s looks for what would help.", w.ShortTitle(n.part), is, n.part)
	}
	if n.form.all {
		v.space()
		v.sayCost(before.Season.Measure(standing, h.history, nil), h.season.Measure(p, h.history, standing))
	}
}

// chanceOf gives how sure a part is to be ready, empty where that is no matter of
// luck: nothing is left of it, or the plan leaves some of it out.
func (w *view) chanceOf(part string) string {
	if t := w.Stand(part); t == nil || t.Ready == 0 {
		return ""
	}
	lacking := chance.Lacking(w.Season, w.History, w.Plan, part, w.luck())
	if lacking == nil {
		return ""
	}
	return model.Percent(chance.ReadyIn(lacking))
}

package page

import (
	"bytes"
	"math/rand/v2"
	"strings"
	"testing"

	"primaprova/model"
	"primaprova/model/invent"
)

// The dates that count stand on their days: each first rehearsal once, each
// ready-by date, and a rest day also where there is listening.
func TestDaysNameTheDatesThatCount(t *testing.T) {
	s := invent.Season(invent.Size{Weeks: 8, Programmes: 3, Parts: 2, Passages: 3, Lead: 20, Tightness: 0.5, Seed: 4})
	p := filled(s, rand.New(rand.NewPCG(1, 2)))
	monday := s.From.Monday() + 7
	p.Sessions = append(p.Sessions, model.Session{ID: "x", Date: monday, Minutes: 20, Stage: model.ListeningStage, Part: s.Work(nil)[0].Name})
	lost := s.From + 3
	h := &model.History{Days: map[model.Date]model.DayNote{lost: model.Lost}}
	var b bytes.Buffer
	if err := Write(&b, s.With(h), p, h, Options{Locale: model.DefaultLocale()}); err != nil {
		t.Fatal(err)
	}
	weeks, _, _ := strings.Cut(b.String(), `id="programmes"`)
	articles := map[string]string{}
	for _, a := range strings.Split(weeks, "<article")[1:] {
		_, name, _ := strings.Cut(a, "<h3>")
		name, _, _ = strings.Cut(name, " <span")
		articles[name] = a
	}
	on := func(d model.Date, want string) {
		t.Helper()
		if a := articles[model.DefaultLocale().Day(d)]; strings.Count(a, want) != 1 {
			t.Errorf("%v: %q is not there once:\n%s", d, want, a)
		}
	}
	for i := range s.Programmes {
		q := &s.Programmes[i]
		on(q.FirstRehearsal(), "first rehearsal, "+q.Title)
		on(q.FirstRehearsal()-model.Date(s.Habits.ReadyDays), "ready by: "+q.Title)
	}
	on(monday, "rest day")
	on(lost, "lost")
	if n := strings.Count(weeks, "first rehearsal, "); n != len(s.Programmes) {
		t.Errorf("%d first rehearsals of %d programmes", n, len(s.Programmes))
	}
}

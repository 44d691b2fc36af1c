package page

import (
	"bytes"
	"fmt"
	"html"
	"math/rand/v2"
	"regexp"
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
	h := &model.History{Days: map[model.Date]model.DayNote{lost: model.Lost}, Notes: map[model.Date]string{lost: "a cold"}}
	var b bytes.Buffer
	if err := Write(&b, s.With(h), p, h, Options{Locale: model.DefaultLocale()}); err != nil {
		t.Fatal(err)
	}
	weeks, _, _ := strings.Cut(b.String(), `id="programmes"`)
	articles := map[string]string{}
	for _, a := range strings.Split(weeks, "<article")[1:] {
		_, name, _ := strings.Cut(a, "<h4>")
		name = strings.TrimPrefix(name, `<span id="now">Today, </span>`)
		name, _, _ = strings.Cut(name, "</h4>")
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
		on(q.FirstRehearsal(), fmt.Sprintf(`first rehearsal, <span class="chip p%d">%s</span> <bdi lang="">%s</bdi>`, i, s.Looks()[i].Letter, q.Title))
		on(q.FirstRehearsal()-model.Date(s.Habits.ReadyDays), "ready by: "+q.Title)
	}
	on(monday, "rest day")
	on(lost, "lost: a cold")
	if n := strings.Count(weeks, "first rehearsal, "); n != len(s.Programmes) {
		t.Errorf("%d first rehearsals of %d programmes", n, len(s.Programmes))
	}
}

// What to do stands in words with every session: in its row, or by its class in the
// style, where each text is once; numbers are those of the plan, what is recorded is
// said, and progress counts it.
func TestRowsSayWhatToDo(t *testing.T) {
	s := invent.Season(invent.Size{Weeks: 6, Programmes: 2, Parts: 2, Passages: 5, Lead: 20, Tightness: 0.5, Hours: true, Seed: 4})
	p := filled(s, rand.New(rand.NewPCG(1, 2)))
	for i := range p.Sessions {
		p.Sessions[i].Number = 7 + i
	}
	done := p.Sessions[3]
	page := string(written(t, s, p, Options{Locale: model.DefaultLocale(), Today: s.From, Recorded: map[model.SessionDay]string{done.Key(): "done"}}))
	_, style, _ := strings.Cut(page, "<style>")
	said, sheets, rows := map[string]string{}, s.View(p, nil), 0
	for _, m := range regexp.MustCompile(`(?m)^\.([a-z]\d*)::after\{content:"([^"]*)"\}$`).FindAllStringSubmatch(style, -1) {
		said[m[1]] = m[2]
	}
	for d := s.From; d <= s.To; d++ {
		_, article, _ := strings.Cut(page, `<article id="`+d.String()+`"`)
		article, _, _ = strings.Cut(article, "</article>")
		for _, l := range sheets.Sheet(d).Lines {
			if l.Session == nil {
				continue
			}
			rows++
			_, before, _ := strings.Cut(article, fmt.Sprintf(">%d %s<b>", l.Session.Number, l.Session.Start))
			at := strings.Index(article, fmt.Sprintf(">%d %s<b>", l.Session.Number, l.Session.Start))
			if at < 0 {
				t.Fatalf("%v: %d is not there", d, l.Session.Number)
			}
			text := before
			if class := regexp.MustCompile(`<li class="([a-pr-z]\d*)(?: q\d+)?"$`).FindStringSubmatch(article[:at]); class != nil {
				text = said[class[1]]
			}
			if !strings.Contains(html.UnescapeString(text), l.Do) {
				t.Errorf("%v: %d says %.60q, not %q", d, l.Session.Number, text, l.Do)
			}
		}
	}
	if n := strings.Count(page, "<small>✓ done</small>"); n != 1 || rows < 50 || len(said) < 5 {
		t.Errorf("%d sessions are marked as done, %d rows, %d texts said by the style", n, rows, len(said))
	}
}

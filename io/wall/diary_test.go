package wall

import (
	"slices"
	"strings"
	"testing"

	"primaprova/model"
)

// A day's load is the sum of its services, warm-up and planned playing; every
// service has its badge, every programme one first rehearsal and one ready-by
// date.
func TestDiary(t *testing.T) {
	s, p := full()
	d := newDiary(laid(t, s, p, Options{})[0].fonts, s, p, nil, model.DefaultLocale())
	playing, listening := map[model.Date]model.Minutes{}, map[model.Date]model.Minutes{}
	for _, v := range p.Sessions {
		if v.Playing {
			playing[v.Date] += v.Minutes
		} else {
			listening[v.Date] += v.Minutes
		}
	}
	for date := s.From; date <= s.To; date++ {
		x := d.on(date)
		services := model.Minutes(0)
		for _, v := range s.ServicesOn(date) {
			services += v.PlayingMinutes()
		}
		if x.load != services+playing[date] || x.listening != listening[date] {
			t.Errorf("%s: load %s, listening %s; want %s, %s", date, x.load, x.listening, services+playing[date], listening[date])
		}
		badges := 0
		for _, m := range x.marks {
			if m.kind != readyMark {
				badges++
			}
		}
		if n := len(s.ServicesOn(date)); badges != n {
			t.Errorf("%s: %d badges for %d services", date, badges, n)
		}
	}
	for i, q := range d.programmes {
		first, ready := mark{}, mark{}
		for _, m := range append(slices.Clone(d.on(q.first).marks), d.on(q.ready).marks...) {
			switch {
			case m.programme == i && m.kind == firstMark:
				first = m
			case m.programme == i && m.kind == readyMark:
				ready = m
			}
		}
		if first.kind != firstMark || ready.kind != readyMark {
			t.Errorf("%s has no first rehearsal on %s or no ready-by mark on %s", q.title, q.first, q.ready)
		}
		if i > 0 && q.first < d.programmes[i-1].first {
			t.Errorf("%s comes after a later programme", q.title)
		}
	}
}

// What a cell says grows shorter as it grows narrower, and says first what a
// player looks for first.
func TestWordsGiveWay(t *testing.T) {
	f, err := newFonts(nil)
	if err != nil {
		t.Fatal(err)
	}
	chunks := []chunk{{firstMark, "A", black, []string{"10:00 first rehearsal: Tide tables", "10:00 first rehearsal", "first"}, false},
		{concertMark, "B", black, []string{"19:30 concert", "19:30"}, false}, {variants: []string{"rest day", "rest"}}}
	said := func(width float64, lines int) string {
		s := &sheet{fonts: f, w: 400, h: 400}
		s.flow(chunks, slot{box: box{0, 0, width, 100}, size: 6, head: 8, lines: lines})
		var out []string
		for _, i := range s.items {
			if w, ok := i.(word); ok {
				out = append(out, w.text)
			}
		}
		return strings.Join(out, " ")
	}
	for _, c := range []struct {
		width float64
		lines int
		want  string
	}{
		{300, 1, "A 10:00 first rehearsal: Tide tables B 19:30 concert rest day"},
		{180, 1, "A 10:00 first rehearsal B 19:30 rest"},
		{110, 1, "A first B 19:30 rest"},
		{90, 2, "A 10:00 first rehearsal B 19:30 concert rest day"},
		{60, 1, "A first +2"},
		{60, 3, "A first B 19:30 concert rest day"},
	} {
		if got := said(c.width, c.lines); got != c.want {
			t.Errorf("in %d lines of %.0f points: %q, want %q", c.lines, c.width, got, c.want)
		}
	}
}

// Where nothing is rehearsed the first date goes by its own kind, and recitals and
// auditions look like concerts.
func TestServicesOfAllKinds(t *testing.T) {
	s, p := full()
	q := &s.Programmes[0]
	on := q.FirstRehearsal()
	q.Services = []model.Service{{Kind: model.Recital, Date: on, Start: 1140, Lasts: 60, Playing: 60}, {Kind: model.Audition, Date: on + 1, Start: 600, Lasts: 20, Playing: 50}}
	s.Programmes[1].Services = []model.Service{{Kind: model.Lesson, Date: on + 1, Start: 900, Lasts: 60, Playing: 50}}
	said := map[string]bool{}
	for _, sh := range laid(t, s, p, Options{Locale: model.DefaultLocale(), Sheets: []Sheet{Stand}, Days: model.Range{From: on - 1, To: on + 1}}) {
		for _, i := range sh.items {
			if w, ok := i.(word); ok {
				said[w.text] = true
			}
		}
	}
	for _, want := range []string{"19:00 recital: " + q.Title, "10:00 audition: " + q.Title, "15:00 first lesson: " + s.Programmes[1].Title} {
		if !said[want] {
			t.Errorf("%q is not said", want)
		}
	}
	if q.FirstIs() != "recital" || s.Programmes[1].FirstIs() != "first lesson" || s.Programmes[2].FirstIs() != "first rehearsal" {
		t.Errorf("%s, %s, %s", q.FirstIs(), s.Programmes[1].FirstIs(), s.Programmes[2].FirstIs())
	}
}

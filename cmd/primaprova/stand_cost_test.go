//go:build browser

package main

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"primaprova/io/page/browser"
	"primaprova/model"
)

// effort is what a task costs its player by the Keystroke-Level Model (Card, Moran and
// Newell 1980, Communications of the ACM 23(7), 396-410): how often something is
// thought of, the hand goes to the device, points at something, presses a key or a
// button. Its times are of people who know what they do and make no slip, at a desk;
// nobody has measured players with an instrument in their hands. So each time that the
// hand leaves the instrument is taken as two ways of the hand, there and back.
type effort struct{ thoughts, ways, points, presses int }

// seconds are without those that the machine takes.
func (e effort) seconds() float64 {
	return 1.35*float64(e.thoughts) + 0.40*float64(e.ways) + 1.10*float64(e.points) + 0.28*float64(e.presses) // a press: of who types little
}

// moment is when the hand leaves the instrument for the phone.
func (e *effort) moment() { e.thoughts, e.ways = e.thoughts+1, e.ways+2 }

func (e *effort) tapped(n int) { e.points, e.presses = e.points+n, e.presses+n }

func (e *effort) typed(command string) {
	e.thoughts, e.presses = e.thoughts+1, e.presses+len(command)+1
}

// answered taps something, and gives the seconds until the page shows another state.
func (p *handset) answered(id string) float64 {
	p.T.Helper()
	p.Until(fmt.Sprintf(`(b => b && !b.disabled && b.offsetParent)(document.getElementById(%q))`, id))
	return eval[float64](p, fmt.Sprintf(`(async () => {
		await new Promise(r => setTimeout(r, 350)); // nobody taps faster
		const shown = () => document.getElementById("now").innerText + [...document.querySelectorAll("button")] // but for the clock
			.map(b => (b.id === "time" ? "" : b.textContent) + b.ariaPressed + Boolean(b.offsetParent));
		const before = shown(), at = performance.now();
		document.getElementById(%q).click();
		while (shown() === before) await new Promise(requestAnimationFrame);
		return (performance.now() - at) / 1000;
	})()`, id))
}

// A day from show to the next morning's plan, on the phone and at the terminal: what it
// costs its player is under a minute, and what it takes beside playing to have the
// clock and the metronome, too, is told.
func TestStandDayCostsInABrowser(t *testing.T) {
	ctx := browser.Start(t)
	moments := func(e *effort, answer func(string), all ...[]string) {
		for _, taps := range all {
			e.moment()
			for _, id := range taps {
				answer(id)
			}
		}
	}
	find := func(p *handset, e *effort, answer func(string)) {
		moments(e, answer, []string{"find"})
		e.thoughts++ // what it is
		for _, k := range []string{"3", "1", "–", "3", "4", "fails, hard"} {
			p.press(k)
			e.tapped(1)
		}
	}
	for _, c := range []struct {
		what string
		most float64 // seconds; 0: as many as it takes
		day  func(p *handset, e *effort, answer func(id string))
	}{
		{"as planned", 60, func(p *handset, e *effort, answer func(string)) {
			for eval[string](p, `document.getElementById("bars").textContent`) != "Nothing more today" {
				e.moment()
				answer("done")
			}
		}},
		{"one longer, one did not hold, one not done, one place found", 60, func(p *handset, e *effort, answer func(string)) {
			moments(e, answer, []string{"done"}, []string{"more", "more", "done"}, []string{"done"}, []string{"done"}, []string{"notHeld"}, []string{"done"}, []string{"notToday"})
			find(p, e, answer)
		}},
		{"that, with the clock, the metronome, a slip and a look at the whole day", 0, func(p *handset, e *effort, answer func(string)) {
			moments(e, answer, []string{"done"}, []string{"time"}, []string{"more", "done"}, []string{"done"}, []string{"notHeld"}, []string{"undo"}, []string{"notHeld"},
				[]string{"beat"}, []string{"beat", "worked", "done"}, []string{"done"}, []string{"notToday"}, []string{"whole"})
			p.press("back")
			e.tapped(1)
			find(p, e, answer)
		}},
	} {
		h := home(t, "2027-03-05")
		p := h.phone(ctx, 360, 740, "light")
		var e effort
		slowest := 0.0
		e.moment()
		e.tapped(3) // the phone is unlocked, its browser opened, the bookmark tapped
		c.day(p, &e, func(id string) {
			slowest = max(slowest, p.answered(id))
			e.tapped(1)
		})
		p.Until(`standPage.store.all().then(l => l.length === 0)`)
		h.kill()
		t.Setenv("PRIMAPROVA_TODAY", "2027-03-06")
		h.start()
		at := time.Now()
		p.Go(h.address)
		p.Until(`standPage.page.state?.today === "2027-03-06" && standPage.page.state.changed && !standPage.page.state.planning`)
		planned := time.Since(at)
		e.moment() // a look at the next morning
		t.Logf("on the phone, %s: %d taps at %d moments, %.0f s; an answer took at most %.2f s, the next morning's plan was there after %.1f s", c.what, e.presses, e.ways/2, e.seconds(), slowest, planned.Seconds())
		if c.most > 0 && e.seconds() >= c.most {
			t.Errorf("%s: %.0f s", c.what, e.seconds())
		}
	}

	h := home(t, "2027-03-05")
	for _, c := range []struct {
		what  string
		extra []string
	}{{"as planned", nil}, {"one did not hold, one was not done", []string{"record 4 --did-not-hold", "record 5 --not-done"}}} {
		var e effort
		took := map[string]string{}
		do := func(command string) {
			e.typed("primaprova " + command)
			at := time.Now()
			does(t, h.dir, strings.Fields(command)...)
			took[command] = fmt.Sprintf("%.2f s", time.Since(at).Seconds())
		}
		e.ways++ // to the keyboard in the morning, in the evening, and on the next morning
		do("show")
		e.thoughts += len(h.numbered(model.NewDate(2027, time.March, 5))) // each line is read
		e.ways++
		for _, x := range c.extra {
			do(x)
		}
		do("record all")
		do("plan")
		e.ways++
		t.Setenv("PRIMAPROVA_TODAY", "2027-03-06")
		do("show")
		t.Setenv("PRIMAPROVA_TODAY", "2027-03-05")
		t.Logf("at the terminal, %s: %d keys, %.0f s; the commands took %v", c.what, e.presses, e.seconds(), took)
		if e.seconds() >= 60 {
			t.Errorf("%s: %.0f s", c.what, e.seconds())
		}
	}
}

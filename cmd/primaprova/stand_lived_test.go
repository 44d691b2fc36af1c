//go:build browser

package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/chromedp"

	"primaprova/io/page/browser"
	"primaprova/io/planfile"
	"primaprova/model"
)

// A day as it is lived: the warm-up, a visit timed and with the metronome, the network
// gone in the middle, then the server killed; a second phone and the desk at work at the
// same time; home again. The record then holds what was tapped, each once, and what
// counts is what the rule says.
func TestStandLivedDayInABrowser(t *testing.T) {
	h := home(t, "2027-03-05")
	ctx := browser.Start(t)
	sheet := h.numbered(model.NewDate(2027, time.March, 5))
	first, second, paced, last := sheet[2], sheet[3], sheet[4], sheet[5]
	if len(sheet) != 5 || paced != "lantern/harbour/60-71/visit-1" {
		t.Fatalf("%v", sheet)
	}
	a, b := h.phone(ctx, 360, 740, "dark"), h.phone(ctx, 360, 740, "light")
	isNow := func(p *handset, words string) {
		t.Helper()
		p.Until(fmt.Sprintf(`document.getElementById("bars").textContent === %q`, words))
	}

	a.tap("done") // the warm-up goes with its day
	isNow(a, barsIn(first))
	a.tap("time")
	a.Until(`document.getElementById("time").textContent.startsWith("0:0") && document.getElementById("time").textContent > "0:01"`)
	// The clock is put forward: the minutes are up, then a rest is due.
	a.later(10)
	a.Until(`document.getElementById("word").textContent === "10 min are up: go on, the next place counts as much"`)
	a.later(15)
	a.Until(`document.getElementById("word").textContent === "A rest is due: 5 min after 25 min of playing"`)
	a.tap("time") // stopped
	eval[bool](a, `(standPage.page.timer.gone = 25 * 60000, true)`)
	a.Until(`document.getElementById("done").textContent === "done · 25 min"`)
	a.tap("less")
	a.tap("done")
	a.Until(`document.getElementById("bars").textContent === "Rest"`)
	a.tap("done")
	isNow(a, barsIn(second))

	// The network goes, then the server too.
	a.cut(true)
	a.tap("notHeld")
	a.tap("undo") // a slip
	isNow(a, barsIn(second))
	h.kill()
	a.tap("notHeld")
	isNow(a, barsIn(paced))
	for _, x := range []string{"time", "beat", "faster", "faster", "beat", "time", "worked"} {
		a.tap(x)
	}
	eval[bool](a, `(standPage.page.timer.gone = 16 * 60000, true)`)
	a.Until(`document.getElementById("done").textContent === "done · 16 min at 100"`)
	a.tap("more")
	a.tap("done")
	a.tap("done") // the rest
	a.tap("notToday")
	a.Until(`document.getElementById("bars").textContent === "Nothing more today"`)
	a.tap("find")
	a.press("3")
	a.press("1")
	a.press("–")
	a.press("3")
	a.press("4")
	a.press("fails, hard")
	a.picture("lived-away")

	// Meanwhile the desk says that all was done, and the second phone, which knows of
	// nothing since the morning, that the last was done in seven minutes.
	does(t, h.dir, "record", "all")
	b.Until(`standPage.sender.reached === false`)
	eval[bool](b, `(standPage.page.chosen = "`+last+`", document.getElementById("faster").click(), true)`)
	isNow(b, barsIn(last))
	for range 3 {
		b.tap("less")
	}
	b.tap("done")
	if n := eval[int](a, `standPage.store.all().then(l => l.length)`); n != 6 {
		t.Errorf("%d taps are kept on the first phone", n)
	}
	// A phone that was put away comes back without the server, from what it has kept.
	if err := chromedp.Do(b.Ctx, chromedp.Navigate("about:blank"), chromedp.Navigate(h.address)); err != nil {
		t.Errorf("opened again without the server: %v", err)
	}
	b.Until(`standPage.page.entries.length === 1`)

	// Home again, the answers to one of them lost twice.
	h.start()
	a.cut(false)
	for _, p := range []*handset{a, b} {
		p.Until(`standPage.store.all().then(l => l.length === 0)`)
	}
	a.Until(`standPage.page.state.changed && !standPage.page.state.planning`)
	a.picture("lived-home")
	a.tap("whole")
	a.Until(`document.getElementById("changes").textContent.includes("Planned anew")`)
	a.picture("lived-changed")

	got := map[string]int{}
	for _, e := range entriesOf(t, h.dir) {
		if e.ID == "" {
			continue
		}
		got[strings.TrimSpace(fmt.Sprintf("%s %s%s %d %d", e.Kind, e.Session, e.Bars, e.Took, e.Tempo))]++
	}
	want := map[string]int{
		"done " + first + " 24 0":         1,
		"done " + paced + " 17 100":       1,
		"did-not-hold " + second + " 0 0": 2,
		"undo  0 0":                       1,
		"not-done " + last + " 0 0":       1,
		"done " + last + " 7 0":           1,
		"found 31-34 0 0":                 1,
	}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("the record holds\n%v\nand was tapped\n%v", got, want)
	}
	// The desk knew of the first tap, and said nothing of it: of what was said without
	// knowing of each other the more careful counts.
	counts := map[string]string{}
	for _, e := range model.Counting(model.Standing(entriesOf(t, h.dir))) {
		counts[e.Session] = fmt.Sprintf("%s %d", e.Kind, e.Took)
	}
	for session, want := range map[string]string{first: "done 24", paced: "done 17",
		second: "did-not-hold 0", last: "done 0"} {
		if counts[session] != want {
			t.Errorf("%s: %q counts, want %q", session, counts[session], want)
		}
	}
	// The plan made anew has what was found, and today's sessions under their numbers.
	p, err := planfile.Read(filepath.Join(h.dir, "season.plan.json"))
	if err != nil {
		t.Fatal(err)
	}
	found := 0
	for _, v := range p.Sessions {
		if strings.HasPrefix(v.ID, "lantern/harbour/31-34/") || strings.HasPrefix(v.ID, "lantern/lamplighters/31-34/") {
			found++
		}
		if v.ID == paced && v.Number != 4 {
			t.Errorf("it was number 4 on the day's sheet, and is %d", v.Number)
		}
	}
	if found == 0 {
		t.Error("what was found is not planned")
	}
}

// While listening, a tempo at a bar: two taps and the number pad. The read-through stays
// to be done, the passage is planned after it, and goes for that tempo.
func TestStandHearsInABrowser(t *testing.T) {
	h := home(t, "2027-03-02")
	p := h.phone(browser.Start(t), 360, 740, "light")
	p.Until(`document.getElementById("bars").textContent === "Listening"`)
	work := p.text("work")
	p.tap("find")
	p.picture("heard")
	for _, k := range []string{"3", "1", "–", "3", "4", "a tempo", "9", "6", "keep"} {
		p.press(k)
	}
	p.Until(`standPage.page.state.changed`)
	p.tap("find")
	for _, k := range []string{"1", "7", "after", "C", "exposed"} {
		p.press(k)
	}
	p.Until(`standPage.page.state.unseen === 3`)
	said := entriesOf(t, h.dir)
	if len(said) != 2 || said[1].Bars != "17-after-C" || !said[1].Exposed || said[1].Part != said[0].Part {
		t.Fatalf("%+v", said)
	}
	found := said[0]
	if found.Kind != model.Found || !found.Heard || found.Tempo != 96 || found.Bars != "31-34" {
		t.Errorf("%+v, at %s", found, work)
	}
	plan, err := planfile.Read(filepath.Join(h.dir, "season.plan.json"))
	if err != nil {
		t.Fatal(err)
	}
	var read, first model.Date
	for _, v := range plan.Sessions {
		if v.ID == model.StageID(found.Part, model.ReadStage) {
			read = v.Date
		}
		if v.ID == found.Part+"/31-34/visit-1" {
			first = v.Date
		}
	}
	if read == 0 || first < read {
		t.Errorf("read-through on %v, first visit on %v", read, first)
	}
}

// later puts the timers of the page forward by minutes.
func (p *handset) later(minutes int) {
	p.T.Helper()
	eval[bool](p, fmt.Sprintf(`(() => { const p = standPage.page, by = %d * 60000; p.timer.since -= by; p.since.since -= by; return true })()`, minutes))
}

// offline is a command that the browser's protocol has, and the list of its commands no more.
var offline = cdp.Command[offlineParams, cdp.Empty]{Method: "Network.emulateNetworkConditions"}

type offlineParams struct {
	Offline            bool    `json:"offline"`
	Latency            float64 `json:"latency"`
	DownloadThroughput float64 `json:"downloadThroughput"`
	UploadThroughput   float64 `json:"uploadThroughput"`
}

// cut takes the network away from the phone, or gives it back.
func (p *handset) cut(off bool) {
	p.T.Helper()
	browser.Call(p.Tab, offline, offlineParams{Offline: off, DownloadThroughput: -1, UploadThroughput: -1})
}

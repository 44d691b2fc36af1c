//go:build browser

package page

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"

	"primaprova/io/page/browser"
	"primaprova/model"
	"primaprova/model/invent"
)

// This looks at the page in a real browser: make browser.

// measured is what the browser says of the page as it stands.
type measured struct {
	Wide    float64  // of what can be scrolled, in CSS pixels
	Texts   int      // pieces of text that are shown
	Outside []string // texts that leave the window
	Pale    []string // texts with a contrast under 4.5 to what is behind them
	Small   []string // texts under 14 pixels, links and summaries under 24 pixels high
	Over    []string // texts that lie on another one
}

// measure opens everything and measures every text. The contrast is that of
// WCAG 2.2, of the colours that the browser came to.
const measure = `(() => {
  document.querySelectorAll("details").forEach(d => d.open = true);
  const out = {Wide: document.documentElement.scrollWidth, Texts: 0, Outside: [], Pale: [], Small: [], Over: []};
  const rgb = s => s.match(/[\d.]+/g).map(Number);
  const light = c => [0.2126, 0.7152, 0.0722].reduce((l, share, i) => {
    const v = c[i] / 255;
    return l + share * (v <= 0.04045 ? v / 12.92 : Math.pow((v + 0.055) / 1.055, 2.4));
  }, 0);
  const behind = e => {
    for (; e; e = e.parentElement) {
      const c = rgb(getComputedStyle(e).backgroundColor);
      if (c.length === 3 || c[3] === 1) return c;
    }
    return [255, 255, 255];
  };
  const boxes = [];
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let n; n = walk.nextNode();) {
    if (!n.data.trim()) continue;
    const e = n.parentElement, style = getComputedStyle(e);
    if (e.closest("script, style")) continue;
    if (e.closest("thead") && getComputedStyle(e.closest("thead")).position === "absolute") continue; // for screen readers only
    const range = document.createRange();
    range.selectNodeContents(n);
    const said = n.data.trim().slice(0, 30);
    out.Texts++;
    const a = light(rgb(style.color)), b = light(behind(e));
    const contrast = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
    if (contrast < 4.5) out.Pale.push(said + " " + contrast.toFixed(2));
    if (parseFloat(style.fontSize) < 14) out.Small.push(said + " " + style.fontSize);
    if (e.closest(".bar-below")) continue; // it lies over what scrolls under it
    for (const r of range.getClientRects()) {
      if (r.width === 0) continue;
      if (r.left < 0 || r.right > innerWidth + 0.5) out.Outside.push(said + " " + r.left + ".." + r.right);
      boxes.push({said, n, left: r.left + 0.5, right: r.right - 0.5, top: r.top + r.height * 0.15, bottom: r.bottom - r.height * 0.15});
    }
  }
  boxes.sort((a, b) => a.top - b.top);
  boxes.forEach((a, i) => {
    for (let j = i + 1; j < boxes.length && boxes[j].top < a.bottom; j++) {
      const b = boxes[j];
      if (a.left < b.right && b.left < a.right) out.Over.push(a.said + " / " + b.said);
    }
  });
  document.querySelectorAll("a, summary").forEach(e => {
    if (e.closest("[hidden]")) return;
    if (e.getBoundingClientRect().height < (e.closest("nav, .strip") ? 48 : 24)) out.Small.push(e.textContent.trim().slice(0, 30));
  });
  return out;
})()`

func TestInABrowser(t *testing.T) {
	ctx := browser.Start(t)
	for name, page := range pages(t) {
		path := filepath.Join(t.TempDir(), name+".html")
		if err := os.WriteFile(path, page, 0o644); err != nil {
			t.Fatal(err)
		}
		for _, width := range []int64{320, 360, 768, 1280} {
			for _, scheme := range []string{"light", "dark"} {
				t.Run(fmt.Sprintf("%s %d %s", name, width, scheme), func(t *testing.T) { look(t, ctx, "file://"+path, width, scheme) })
			}
		}
	}
}

// opened is where the page stands once it is opened on some day.
type opened struct {
	Top          float64 // of the day marked as today, in CSS pixels from the window's top
	Day, Said    string
	Ahead, Plan  string
	Today, Week  string // where the links lead
	Open, Marked int
	Earlier      string // the days folded away: the first, the last
}

// A phone opens the page on its own day, whichever day it was written on; the links
// go there, and the plan's age is told. On a day outside the season nothing is today.
func TestInABrowserOpensOnToday(t *testing.T) {
	s, p := awkward()
	path := filepath.Join(t.TempDir(), "page.html")
	written := written(t, s, p, Options{Locale: model.DefaultLocale(), Today: s.From + 2})
	if err := os.WriteFile(path, written, 0o644); err != nil {
		t.Fatal(err)
	}
	ctx := browser.Start(t)
	for _, on := range []model.Date{s.From + 2, s.From + 30, s.To + 10} {
		tab, done := browser.New(t, ctx, browser.Window{Width: 360, Height: 740, Scheme: "light"})
		browser.Call(tab, page.Enable, page.EnableParams{})
		fake := fmt.Sprintf(`{ const D = Date; Date = class extends D { constructor(...a) { a.length ? super(...a) : super("%sT21:30:00"); } }; }`, on)
		browser.Call(tab, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: fake})
		tab.Go("file://" + path)
		got := browser.Eval[opened](tab, `(() => {
			const day = document.querySelector(".today"), at = id => document.getElementById(id);
			return {Top: day ? day.getBoundingClientRect().top : -1, Day: day ? day.id : "", Said: day ? day.querySelector("h4").textContent : "",
				Ahead: at("ahead") ? at("ahead").textContent : "", Plan: at("plan").textContent, Today: at("to-today").hash, Week: at("to-week").hash,
				Open: document.querySelectorAll("details[open]").length, Marked: document.querySelectorAll(".today").length + document.querySelectorAll("#now").length,
				Earlier: (all => all.length ? all[0].id + " " + all.at(-1).id : "")([...document.querySelectorAll("#earlier:not([hidden]) article")])};
		})()`)
		tab.Picture("today-"+on.String(), false)
		done()
		if on > s.To {
			if got.Marked != 0 || got.Day != "" {
				t.Errorf("%v: %+v", on, got)
			}
			continue
		}
		earlier := "" // folded away: the weeks before that of the day
		if monday := on.Monday(); monday > s.From {
			earlier = fmt.Sprintf("%v %v", s.From, monday-1)
		}
		old := "That is 28 days ago"
		if on == s.From+2 {
			old = "as it stood on " + model.DefaultLocale().DayYear(on) + "."
		}
		if got.Day != on.String() || got.Marked != 2 || got.Top < -1 || got.Top > 120 || got.Today != "#"+on.String() || !strings.HasPrefix(got.Said, "Today, ") ||
			got.Earlier != earlier || !strings.Contains(got.Ahead, "first rehearsal of") || !strings.Contains(got.Plan, old) || !strings.HasPrefix(got.Week, "#w") {
			t.Errorf("%v: %+v", on, got)
		}
	}
}

// pages gives an awkward season and one without hours.
func pages(t *testing.T) map[string][]byte {
	s, p := awkward()
	plain := invent.Season(invent.Size{Weeks: 6, Programmes: 2, Parts: 2, Passages: 4, Lead: 20, Tightness: 0.4, Estimates: 0.5, Seed: 2})
	l := american()
	l.Months = strings.Fields("tammikuuta helmikuuta maaliskuuta huhtikuuta toukokuuta kesäkuuta heinäkuuta elokuuta syyskuuta lokakuuta marraskuuta joulukuuta")
	return map[string][]byte{
		"awkward": written(t, s, p, Options{Locale: model.DefaultLocale(), Today: s.From + 20}),
		"months":  written(t, s, p, Options{Locale: l, Today: s.From + 20}),
		"plain":   written(t, plain, filled(plain, rand.New(rand.NewPCG(3, 4))), Options{Locale: model.DefaultLocale(), Today: plain.From}),
	}
}

func look(t *testing.T, ctx context.Context, url string, width int64, scheme string) {
	tab, done := browser.New(t, ctx, browser.Window{Width: width, Height: 800, Scheme: scheme})
	defer done()
	tab.Go(url)
	name := strings.ReplaceAll(t.Name()[strings.IndexByte(t.Name(), '/')+1:], "_", "-")
	tab.Picture(name, false)
	faults := func() []string { // where it is read most
		if width == 360 || width == 768 {
			return tab.Faults()
		}
		return nil
	}
	asWritten := faults()
	m := browser.Eval[measured](tab, measure)
	opened := faults()
	tab.Picture(name+"-whole", true)
	if m.Texts < 100 {
		t.Errorf("only %d texts are shown", m.Texts)
	}
	if m.Wide > float64(width) {
		t.Errorf("it scrolls sideways: %.0f pixels in %d", m.Wide, width)
	}
	for what, list := range map[string][]string{"outside the window": m.Outside, "too pale": m.Pale, "too small": m.Small, "on another text": m.Over,
		"said by the browser": tab.Said(), "found by the checker of pages": asWritten, "found with everything opened": opened} {
		for i, x := range list {
			if i == 5 {
				t.Errorf("%s: and %d more", what, len(list)-i)
				break
			}
			t.Errorf("%s: %s", what, x)
		}
	}
	if asked := tab.Asked(); len(asked) != 1 || asked[0] != url {
		t.Errorf("the browser asked for %q", asked)
	}
}

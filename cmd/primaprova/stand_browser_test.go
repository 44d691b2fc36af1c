//go:build browser

package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
)

// These live days at the stand in a real browser, against the program as it is:
// make browser. CHROMIUM names it, PICTURES a folder for pictures to be looked at, and
// AXE the checker of pages (testdata/node).

// browser starts Chromium, which lives as long as the test.
func browser(t *testing.T) context.Context {
	chromium := os.Getenv("CHROMIUM")
	if chromium == "" {
		chromium = "chromium"
	}
	flags := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(chromium), chromedp.UserDataDir(t.TempDir()), chromedp.NoSandbox, chromedp.DisableGPU)
	for _, f := range []string{"disable-quic", "disable-component-update", "hide-scrollbars"} {
		flags = append(flags, chromedp.Flag(f, true))
	}
	flags = append(flags, chromedp.Flag("autoplay-policy", "no-user-gesture-required")) // taps of a test are none
	limit, stop := context.WithTimeout(context.Background(), 10*time.Minute)            // lest a browser that hangs holds everything up
	t.Cleanup(stop)
	all, stop := chromedp.NewExecAllocator(limit, flags...)
	t.Cleanup(stop)
	ctx, stop := chromedp.NewContext(all)
	t.Cleanup(stop)
	if err := chromedp.Do(ctx, chromedp.Navigate("about:blank")); err != nil {
		t.Fatalf("%s: %v", chromium, err)
	}
	return ctx
}

// handset is a browser of its own that has the page open.
type handset struct {
	t    *testing.T
	tab  context.Context
	said func() []string // what the browser complained of
}

func (h *atHome) phone(ctx context.Context, width, height int64, scheme string) *handset {
	h.t.Helper()
	tab, stop := chromedp.NewContext(ctx, chromedp.WithNewBrowserContext())
	h.t.Cleanup(stop)
	p := &handset{t: h.t, tab: tab}
	var complaints collected
	p.said = complaints.all
	if err := chromedp.Listen(tab, func(ev any) {
		switch e := ev.(type) {
		case *log.EventEntryAdded:
			complaints.add(e.Entry.Text + " " + e.Entry.URL)
		case *network.EventRequestWillBeSent:
			if !strings.HasPrefix(e.Request.URL, h.address) {
				complaints.add("asked for " + e.Request.URL)
			}
		}
	}); err != nil {
		h.t.Fatal(err)
	}
	call(p, network.Enable, network.EnableParams{})
	call(p, log.Enable, cdp.Empty{})
	call(p, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
	if err := chromedp.Do(tab, chromedp.EmulateViewport(width, height, chromedp.EmulateScale(1), chromedp.EmulateMobile), chromedp.Navigate(h.address)); err != nil {
		h.t.Fatal(err)
	}
	p.until(`!document.getElementById("title").textContent.startsWith("At the stand")`)
	return p
}

func call[P, R any](p *handset, method cdp.Command[P, R], params P) {
	p.t.Helper()
	if _, err := chromedp.Call(p.tab, method, params); err != nil {
		p.t.Fatal(err)
	}
}

// eval gives what an expression comes to; promises are waited for.
func eval[T any](p *handset, script string) T {
	p.t.Helper()
	out, err := chromedp.Run(p.tab, chromedp.Evaluate[T](script, chromedp.EvalAwaitPromise))
	if err != nil {
		p.t.Fatalf("%s: %v", script, err)
	}
	return out
}

// until waits for what has to come true. How long it takes is no matter.
func (p *handset) until(script string) {
	p.t.Helper()
	for range 600 {
		if eval[bool](p, "Boolean("+script+")") {
			return
		}
		time.Sleep(100 * time.Millisecond)
	}
	p.t.Fatalf("never: %s\n%s", script, eval[string](p, "document.body.innerText"))
}

// tap taps what can be tapped, and waits until the page has taken it.
func (p *handset) tap(id string) {
	p.t.Helper()
	p.until(fmt.Sprintf(`(b => b && !b.disabled && b.offsetParent)(document.getElementById(%q))`, id))
	eval[bool](p, fmt.Sprintf(`(async () => { document.getElementById(%q).click(); await new Promise(r => setTimeout(r, 150)); return true })()`, id))
}

// press taps a button by its words.
func (p *handset) press(words string) {
	p.t.Helper()
	find := fmt.Sprintf(`[...document.querySelectorAll("button")].find(b => b.textContent === %q && b.offsetParent)`, words)
	p.until(find)
	eval[bool](p, "("+find+".click(), true)")
}

func (p *handset) text(id string) string {
	p.t.Helper()
	return eval[string](p, fmt.Sprintf(`document.getElementById(%q).innerText`, id))
}

func (p *handset) picture(name string) {
	p.t.Helper()
	folder := os.Getenv("PICTURES")
	if folder == "" {
		return
	}
	png, err := chromedp.Run(p.tab, chromedp.CaptureScreenshot())
	if err != nil {
		p.t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(folder, "stand-"+name+".png"), png, 0o644); err != nil {
		p.t.Fatal(err)
	}
}

// collected is what others say while a test goes on.
type collected struct {
	mu   sync.Mutex
	list []string
}

func (c *collected) add(s string) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.list = append(c.list, s)
}

func (c *collected) all() []string {
	c.mu.Lock()
	defer c.mu.Unlock()
	return slices.Clone(c.list)
}

// barsIn says a visit's bars as the page does.
func barsIn(id string) string { return "bars " + strings.Split(id, "/")[2] }

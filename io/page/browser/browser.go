// Package browser opens pages in Chromium, for tests alone: make browser. CHROMIUM names
// it, AXE the checker of pages (testdata/node), and PICTURES a folder for pictures of what
// was opened, to be looked at.
package browser

import (
	"cmp"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
)

// Start starts a browser that lives as long as the test.
func Start(t testing.TB) context.Context {
	t.Helper()
	chromium := cmp.Or(os.Getenv("CHROMIUM"), "chromium")
	flags := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(chromium), chromedp.UserDataDir(t.TempDir()), chromedp.NoSandbox, chromedp.DisableGPU)
	for _, f := range []string{"disable-quic", "disable-component-update", "hide-scrollbars"} { // nothing but the page is asked for
		flags = append(flags, chromedp.Flag(f, true))
	}
	flags = append(flags, chromedp.Flag("autoplay-policy", "no-user-gesture-required")) // taps of a test are none
	limit, stop := context.WithTimeout(context.Background(), 20*time.Minute)            // lest a browser that hangs holds everything up
	t.Cleanup(stop)
	all, stop := chromedp.NewExecAllocator(limit, flags...)
	t.Cleanup(stop)
	ctx, stop := chromedp.NewContext(all)
	t.Cleanup(stop)
	if err := chromedp.Do(ctx, chromedp.Navigate("about:blank")); err != nil { // the browser lives as long as this context
		t.Fatalf("%s: %v", chromium, err)
	}
	return ctx
}

// Window is how a page is seen: in CSS pixels, light or dark.
type Window struct {
	Width, Height int64
	Scheme        string
}

// Tab is a window with what it asks for and complains of. It keeps nothing of others':
// each is like a browser of its own.
type Tab struct {
	T   testing.TB
	Ctx context.Context

	mu          sync.Mutex
	asked, said []string
}

// New opens a window with nothing in it, until Close or the end of the test.
func New(t testing.TB, ctx context.Context, w Window) (tab *Tab, done func()) {
	t.Helper()
	in, stop := chromedp.NewContext(ctx, chromedp.WithNewBrowserContext())
	t.Cleanup(stop)
	tab = &Tab{T: t, Ctx: in}
	if err := chromedp.Listen(in, func(ev any) {
		tab.mu.Lock()
		defer tab.mu.Unlock()
		switch e := ev.(type) {
		case *log.EventEntryAdded:
			tab.said = append(tab.said, e.Entry.Text+" "+e.Entry.URL)
		case *network.EventRequestWillBeSent:
			tab.asked = append(tab.asked, e.Request.URL)
		}
	}); err != nil {
		t.Fatal(err)
	}
	Call(tab, network.Enable, network.EnableParams{})
	Call(tab, log.Enable, cdp.Empty{})
	Call(tab, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: w.Scheme}}})
	options := []chromedp.EmulateViewportOption{chromedp.EmulateScale(1)}
	if w.Width < 1000 {
		options = append(options, chromedp.EmulateMobile)
	}
	if err := chromedp.Do(in, chromedp.EmulateViewport(w.Width, w.Height, options...)); err != nil {
		t.Fatal(err)
	}
	return tab, stop
}

// Go opens an address, and waits until it is loaded.
func (p *Tab) Go(address string) {
	p.T.Helper()
	if err := chromedp.Do(p.Ctx, chromedp.Navigate(address)); err != nil {
		p.T.Fatalf("%s: %v", address, err)
	}
}

// Asked gives the addresses asked for, Said what the browser complained of.
func (p *Tab) Asked() []string { return p.noted(&p.asked) }

// Said gives what the browser complained of.
func (p *Tab) Said() []string { return p.noted(&p.said) }

func (p *Tab) noted(list *[]string) []string {
	p.mu.Lock() // not for long: the listener above holds everything up
	defer p.mu.Unlock()
	return slices.Clone(*list)
}

// Call does a command of the browser's protocol.
func Call[P, R any](p *Tab, method cdp.Command[P, R], params P) {
	p.T.Helper()
	if _, err := chromedp.Call(p.Ctx, method, params); err != nil {
		p.T.Fatal(err)
	}
}

// Eval gives what an expression comes to; promises are waited for.
func Eval[T any](p *Tab, script string) T {
	p.T.Helper()
	out, err := chromedp.Run(p.Ctx, chromedp.Evaluate[T](script, chromedp.EvalAwaitPromise))
	if err != nil {
		p.T.Fatalf("%.500s: %v", script, err)
	}
	return out
}

// Until waits for what has to come true. How long it takes is no matter.
func (p *Tab) Until(script string) {
	p.T.Helper()
	for range 600 {
		if Eval[bool](p, "Boolean("+script+")") {
			return
		}
		time.Sleep(100 * time.Millisecond)
	}
	p.T.Fatalf("never: %s\n%s", script, Eval[string](p, "document.body.innerText"))
}

// Faults gives what the checker of pages finds in the page as it stands.
func (p *Tab) Faults() []string {
	p.T.Helper()
	axe, err := os.ReadFile(os.Getenv("AXE"))
	if err != nil {
		p.T.Fatalf("AXE: %v", err)
	}
	return Eval[[]string](p, string(axe)+`; axe.run().then(r => r.violations.map(v => v.id + ": " + v.nodes.map(n => n.target + " " + n.failureSummary).join(", ")))`)
}

// Picture keeps the window as it stands, and all of the page where whole is said, where
// pictures are wanted.
func (p *Tab) Picture(name string, whole bool) {
	p.T.Helper()
	folder := os.Getenv("PICTURES")
	if folder == "" {
		return
	}
	take := chromedp.CaptureScreenshot()
	if whole {
		take = chromedp.FullScreenshot(100)
	}
	png, err := chromedp.Run(p.Ctx, take)
	if err == nil {
		err = os.WriteFile(filepath.Join(folder, name+".png"), png, 0o644)
	}
	if err != nil {
		p.T.Fatal(fmt.Errorf("%s: %w", name, err))
	}
}

//go:build browser

package main

import (
	"context"
	"fmt"
	"strings"

	"primaprova/io/page/browser"
)

// These live days at the stand in a real browser, against the program as it is:
// make browser.

// handset is a browser of its own that has the page open.
type handset struct {
	*browser.Tab
	home string // the page's address
}

func (h *atHome) phone(ctx context.Context, width, height int64, scheme string) *handset {
	h.t.Helper()
	tab, _ := browser.New(h.t, ctx, browser.Window{Width: width, Height: height, Scheme: scheme})
	tab.Go(h.address)
	tab.Until(`!document.getElementById("title").textContent.startsWith("At the stand")`)
	return &handset{tab, h.address}
}

// eval gives what an expression comes to.
func eval[T any](p *handset, script string) T {
	p.T.Helper()
	return browser.Eval[T](p.Tab, script)
}

// complaints are what the browser said, and what was asked for elsewhere.
func (p *handset) complaints() []string {
	out := p.Said()
	for _, address := range p.Asked() {
		if !strings.HasPrefix(address, p.home) {
			out = append(out, "asked for "+address)
		}
	}
	return out
}

// tap taps what can be tapped, and waits until the page has taken it and takes the same again.
func (p *handset) tap(id string) {
	p.T.Helper()
	p.Until(fmt.Sprintf(`(b => b && !b.disabled && b.offsetParent)(document.getElementById(%q))`, id))
	eval[bool](p, fmt.Sprintf(`(async () => { document.getElementById(%q).click(); await new Promise(r => setTimeout(r, 350)); return true })()`, id))
}

// press taps a button by its words.
func (p *handset) press(words string) {
	p.T.Helper()
	find := fmt.Sprintf(`[...document.querySelectorAll("button")].find(b => b.textContent === %q && b.offsetParent)`, words)
	p.Until(find)
	eval[bool](p, "("+find+".click(), true)")
}

func (p *handset) text(id string) string {
	p.T.Helper()
	return eval[string](p, fmt.Sprintf(`document.getElementById(%q).innerText`, id))
}

func (p *handset) picture(name string) {
	p.T.Helper()
	p.Picture("stand-"+name, false)
}

// barsIn says a visit's bars as the page does.
func barsIn(id string) string { return "bars " + strings.Split(id, "/")[2] }

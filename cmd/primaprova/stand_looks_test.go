//go:build browser

package main

import (
	"fmt"
	"testing"

	"primaprova/io/page/browser"
)

// The page as it stands in each size and light: nothing leaves the window, what is
// read from afar is large, what is tapped while playing is large and lies in the lower
// half, and the checker of pages finds nothing.
func TestStandLooksInABrowser(t *testing.T) {
	h := home(t, "2027-03-05")
	ctx := browser.Start(t)
	for _, c := range []struct {
		width, height int64
		scheme        string
	}{{360, 740, "light"}, {360, 740, "dark"}, {768, 1024, "light"}, {768, 1024, "dark"}, {320, 560, "light"}} {
		name := fmt.Sprintf("%d-%s", c.width, c.scheme)
		p := h.phone(ctx, c.width, c.height, c.scheme)
		check := func(where string) {
			p.picture(name + "-" + where)
			for _, fault := range eval[[]string](p, looked) {
				t.Errorf("%s %s: %s", name, where, fault)
			}
			for _, fault := range p.Faults() {
				t.Errorf("%s %s: %s", name, where, fault)
			}
		}
		p.tap("done") // the warm-up
		check("now")
		p.tap("whole")
		check("day")
		p.press("back")
		p.tap("find")
		p.press("6")
		p.press("1")
		check("pad")
		p.press("A–Z")
		check("letters")
		p.press("back")
		eval[bool](p, `(standPage.page.chosen = "lantern/harbour/12-28/visit-2", document.getElementById("faster").click(), true)`)
		p.tap("time")
		p.tap("faster")
		p.tap("worked")
		check("beat")
		p.tap("hurts")
		check("pain")
		p.tap("undo")
		p.Until(`document.getElementById("hurts").offsetParent`)
		for _, s := range p.complaints() {
			t.Errorf("%s: the browser says: %s", name, s)
		}
	}
}

const looked = `(() => {
  const out = [], open = document.querySelector("dialog[open]");
  if (document.documentElement.scrollWidth > innerWidth) out.push("it scrolls sideways: " + document.documentElement.scrollWidth);
  const bars = document.getElementById("bars");
  if (!open && parseFloat(getComputedStyle(bars).fontSize) < 28) out.push("bars in " + getComputedStyle(bars).fontSize);
  for (const b of (open || document).querySelectorAll("button, select")) {
    const r = b.getBoundingClientRect();
    if (r.width === 0) continue;
    const said = b.id || b.textContent;
    if (r.width < 48 || r.height < 48) out.push(said + ": " + r.width + " x " + r.height);
    if (r.left < 0 || r.right > innerWidth) out.push(said + ": outside");
    if (!open && innerHeight > 700 && (r.top < innerHeight / 2 || r.bottom > innerHeight)) out.push(said + ": not in the lower half: " + r.top + ".." + r.bottom + " of " + innerHeight);
    if (b.scrollWidth > b.clientWidth + 1) out.push(said + ": its words don't fit");
  }
  for (const id of ["bars", "work", "do", "visit"]) {
    const r = document.getElementById(id).getBoundingClientRect();
    if (!open && innerHeight > 700 && r.bottom > document.getElementById("hand").getBoundingClientRect().top) out.push(id + ": below what is tapped");
  }
  return out;
})()`

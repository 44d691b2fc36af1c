package wall

import (
	"fmt"
	"math"
	"slices"
)

func (b box) holds(o box, slack float64) bool {
	return o.x >= b.x-slack && o.y >= b.y-slack && o.right() <= b.right()+slack && o.bottom() <= b.bottom()+slack
}

// meets tells whether two boxes share more than a hair's width.
func (b box) meets(o box) bool {
	const hair = 0.02
	return b.x < o.right()-hair && o.x < b.right()-hair && b.y < o.bottom()-hair && o.y < b.bottom()-hair
}

// edges gives the four lines of a frame as thin boxes.
func (f frame) edges() []box {
	w := f.width
	return []box{f.top(w), {f.x, f.bottom() - w, f.w, w}, f.left(w), {f.right() - w, f.y, w, f.h}}
}

// faults says all that is wrong with a sheet: text that leaves its cell or the
// page, that is wider than its box says, that meets another text, a line or a
// pattern, or that stands on ground too like it (WCAG 2.2, 1.4.3: 4.5 to 1).
func (s *sheet) faults() (out []string) {
	fault := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	page := box{0, 0, s.w, s.h}
	bands := map[int][]int{} // items by the strips of the page that they lie in
	band := func(y float64) int { return int(math.Floor(y / 12)) }
	for n, i := range s.items {
		if b, ok := bounds(i); ok {
			for y := band(b.y - 1); y <= band(b.bottom()+1); y++ {
				bands[y] = append(bands[y], n)
			}
		}
	}
	spoken := map[int][]word{}
	for n, i := range s.items {
		w, ok := i.(word)
		if !ok {
			if b, ok := bounds(i); ok && !page.holds(b, 0.01) {
				fault("%T at %v leaves the page", i, b)
			}
			continue
		}
		if !w.cell.holds(w.at, 0.02) {
			fault("%q at %v leaves its cell %v", w.text, w.at, w.cell)
		}
		if !s.page().holds(w.at, 0.01) {
			fault("%q at %v leaves the page's margins", w.text, w.at)
		}
		if width := s.fonts.measure(w.text, w.bold, w.size); math.Abs(width-w.at.w) > 0.001 {
			fault("%q is %.3f wide, not %.3f", w.text, width, w.at.w)
		}
		if w.size < leastText {
			fault("%q is of %.1f points", w.text, w.size)
		}
		var near []int
		for y := band(w.at.y); y <= band(w.at.bottom()); y++ {
			for _, o := range spoken[y] {
				if w.at.meets(o.at) {
					fault("%q at %v meets %q at %v", w.text, w.at, o.text, o.at)
				}
			}
			spoken[y] = append(spoken[y], w)
			near = append(near, bands[y]...)
		}
		slices.Sort(near)
		ground := paper
		for _, m := range slices.Compact(near) {
			switch o := s.items[m].(type) {
			case area:
				if m < n && o.box.holds(w.at, 0) {
					ground = o.ink
				} else if o.box.meets(w.at) {
					fault("%q at %v is cut by an area at %v", w.text, w.at, o.box)
				}
			case frame:
				for _, e := range o.edges() {
					if e.meets(w.at) {
						fault("%q at %v is cut by a frame at %v", w.text, w.at, o.box)
					}
				}
			case line, texture, gem:
				if b, _ := bounds(o); b.meets(w.at) {
					fault("%q at %v is cut by %T at %v", w.text, w.at, o, b)
				}
			}
		}
		if c := contrast(w.ink, ground); c < 4.5 {
			fault("%q has contrast %.2f", w.text, c)
		}
	}
	return out
}

func bounds(i item) (box, bool) {
	switch i := i.(type) {
	case area:
		return i.box, true
	case frame:
		return i.box, true
	case texture:
		return i.box, true
	case gem:
		return i.box, true
	case line:
		return box{min(i.x1, i.x2) - i.width/2, min(i.y1, i.y2) - i.width/2,
			math.Abs(i.x2-i.x1) + i.width, math.Abs(i.y2-i.y1) + i.width}, true
	}
	return box{}, false
}

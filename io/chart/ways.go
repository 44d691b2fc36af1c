package chart

import (
	"fmt"
	"image/color"

	"gonum.org/v1/plot/vg"
)

const rowHeight vg.Length = 13

// ways draws a row for each part, by programme, from its arrival to the day it
// stands ready.
func (s *sheet) ways(d *data, y vg.Length) {
	s.head(y, "From arrival to ready", entry{arrival, "arrives"}, entry{ring, "above: listening, recordings"}, entry{square, "below: read-through"},
		entry{tick, "below: visits"}, entry{disc, "stands ready"}, entry{open, "ready by"}, entry{diamond, "first rehearsal"})
	y0 := y + headHeight
	y1 := y0 + rowHeight*vg.Length(d.rows())
	for i, at := 0, y0; i < len(d.programmes); i++ {
		h := rowHeight * vg.Length(1+len(d.programmes[i].parts))
		if i%2 == 0 {
			s.rect(edge-4, at, end+4, at+h, band, nil)
		}
		at += h
	}
	s.dates(d, y0, y1)
	at := y0
	for i := range d.programmes {
		at = s.programme(d, &d.programmes[i], at)
	}
}

func (s *sheet) programme(d *data, p *programme, y vg.Length) vg.Length {
	below := y + rowHeight*vg.Length(1+len(p.parts))
	first, line := d.middle(p.first), y+rowHeight*.72
	s.named(p, y, style{size: 8.5, bold: true})
	tone := toneOf(p.look)
	if p.readyBy >= d.from {
		x := d.x(p.readyBy + 1) // the ready-by day itself is in time
		s.line(fine, dashes, ink, vg.Point{X: x, Y: y + rowHeight}, vg.Point{X: x, Y: below})
		s.gem(x, y+rowHeight/2, paper, tone)
	}
	s.line(1, nil, tone, vg.Point{X: first, Y: y + rowHeight/2}, vg.Point{X: first, Y: below})
	s.gem(first, y+rowHeight/2, tone, tone)
	words := style{size: 8}
	on := d.locale.Day(p.first)
	if first+10+s.width(on, words) <= right {
		s.text(first+8, line, on, words)
	} else {
		words.right = true
		s.text(first-8, line, on, words)
	}
	for i := range p.parts {
		y += rowHeight
		s.part(d, &p.parts[i], y, tone)
	}
	return below
}

// part draws a part's row so that no mark covers another: what is listened to in its
// upper half, what is played in its lower.
func (s *sheet) part(d *data, w *way, y vg.Length, tone color.Color) {
	mid, line := y+rowHeight/2, y+rowHeight*.72
	s.text(edge+8, line, w.work, style{size: 8.5, most: left - edge - 16})
	from, to := d.x(min(max(w.arrives, d.from), d.to))-half, d.middle(w.arrives) // it is there when its day begins
	if w.last != 0 {
		to = d.middle(w.last)
	}
	s.line(fine, nil, quiet, vg.Point{X: from, Y: mid}, vg.Point{X: to, Y: mid})
	const r = rowHeight/4 - .4
	var visits []vg.Point
	for _, on := range w.visits {
		x := d.middle(on)
		if on == w.read { // beside its box
			x += r + 1
		}
		visits = append(visits, vg.Point{X: x, Y: mid}, vg.Point{X: x, Y: mid + rowHeight/2 - 1})
	}
	s.strokes(1.2, tone, visits...)
	s.line(1.2, nil, quiet, vg.Point{X: from, Y: mid - half - 1}, vg.Point{X: from, Y: mid + half + 1})
	for _, on := range w.listening {
		s.circle(d.middle(on), mid-rowHeight/4, r, tone, false)
	}
	if w.read != 0 {
		x, below := d.middle(w.read), mid+rowHeight/4
		s.rect(x-r+.2, below-r+.2, x+r-.2, below+r-.2, paper, tone)
	}
	if w.ready != 0 && w.ready != w.read {
		disc(s, to, mid)
	}
	switch {
	case w.leftOut > 0:
		s.text(right+8, line, fmt.Sprintf("%d left out", w.leftOut), style{size: 8, bold: true, colour: alert, most: end - right - 8})
	case w.later != "":
		s.text(right+8, line, w.later, style{size: 8, most: end - right - 8})
	}
}

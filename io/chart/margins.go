package chart

import (
	"fmt"

	"gonum.org/v1/plot/vg"
)

// The words stand in a column of their own, where no line of the grid crosses.
const barsEnd = end - 220

const leastScale = 7 // days: a short margin shall not look like a long one

// margins draws for each programme the days from when it stands ready to its
// first rehearsal.
func (s *sheet) margins(d *data, y vg.Length) {
	s.head(y, "Days to spare", entry{swatch(true, true), "from the day it stands ready to the first rehearsal"},
		entry{dashed, fmt.Sprintf("ready by: %d days before", d.readyDays)})
	y0 := y + headHeight
	y1 := y0 + rowHeight*vg.Length(len(d.programmes))
	most := max(d.readyDays+1, leastScale)
	for i := range d.programmes {
		most = max(most, d.programmes[i].margin())
	}
	at := func(days int) vg.Length { return left + (barsEnd-left)*vg.Length(days)/vg.Length(most) }
	step := 1
	for most > 15*step {
		step *= 7
	}
	for n := 0; n <= most; n += step {
		s.line(.5, nil, rule, vg.Point{X: at(n), Y: y0}, vg.Point{X: at(n), Y: y1 + 3})
		s.text(at(n), y1+12, fmt.Sprint(n), style{size: 8, colour: quiet, middle: true})
	}
	for i := range d.programmes {
		p := &d.programmes[i]
		row := y0 + rowHeight*vg.Length(i)
		s.named(p, row, style{size: 8.5})
		bar := at(p.margin())
		if p.margin() > 0 {
			s.rect(left, row+2, bar, row+rowHeight-2, planned, ink)
		}
		words := style{size: 8, most: end - barsEnd - 14}
		if p.leftOut > 0 {
			words.bold, words.colour = true, alert
		}
		s.text(barsEnd+14, row+rowHeight*.72, p.words(d), words)
	}
	s.line(fine, nil, ink, vg.Point{X: left, Y: y0}, vg.Point{X: left, Y: y1})
	x := at(d.readyDays)
	s.line(fine, dashes, ink, vg.Point{X: x, Y: y0}, vg.Point{X: x, Y: y1})
}

// margin gives the days from standing ready to the first rehearsal, 0 where it
// never does.
func (p *programme) margin() int {
	if p.ready == 0 {
		return 0
	}
	return max(0, int(p.first-p.ready))
}

func (p *programme) words(d *data) string {
	if p.ready == 0 && p.leftOut == 0 {
		return "nothing is planned"
	}
	if p.ready == 0 {
		return fmt.Sprintf("not ready, %d left out, first rehearsal %s", p.leftOut, d.locale.Day(p.first))
	}
	out := fmt.Sprintf("%d days, first rehearsal %s", p.margin(), d.locale.Day(p.first))
	if p.margin() == 1 {
		out = "1 day, first rehearsal " + d.locale.Day(p.first)
	}
	if p.leftOut > 0 {
		out += fmt.Sprintf(", %d left out", p.leftOut)
	}
	return out
}

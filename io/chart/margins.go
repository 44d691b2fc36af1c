package chart

import (
	"cmp"
	"fmt"
	"slices"

	"gonum.org/v1/plot/vg"

	"primaprova/model"
)

// The words stand in a column of their own, where no line of the grid crosses.
const barsEnd = end - 220

const leastScale = 7 // days: a short margin shall not look like a long one

// margins draws for each programme the days from when it stands ready to its
// first rehearsal.
func (s *sheet) margins(d *data, y vg.Length) {
	s.head(y, "Days to spare", entry{outlined, "from the day it stands ready to the first rehearsal"},
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

// chances draws for each programme how sure its parts are to be ready at its
// first rehearsal, and names the least sure one.
func (s *sheet) chances(d *data, y vg.Length) {
	s.head(y, "Chance to be ready", entry{ring, "a part"}, entry{disc, "the least sure part of its programme"},
		entry{func(*sheet, vg.Length, vg.Length) {}, "when the plan is played through many times, by luck"})
	y0 := y + headHeight
	y1 := y0 + rowHeight*vg.Length(len(d.programmes))
	const sure = barsEnd - half - 1
	at := func(share float64) vg.Length { return left + half + 1 + (sure-left-half-1)*vg.Length(share) }
	for n := 0; n <= 100; n += 10 {
		x := at(float64(n) / 100)
		s.line(.5, nil, rule, vg.Point{X: x, Y: y0}, vg.Point{X: x, Y: y1 + 3})
		if n%20 == 0 {
			s.text(x, y1+12, fmt.Sprintf("%d %%", n), style{size: 8, colour: quiet, middle: true})
		}
	}
	for i := range d.programmes {
		p := &d.programmes[i]
		row := y0 + rowHeight*vg.Length(i)
		line := row + rowHeight*.72
		s.named(p, row, style{size: 8.5})
		known := slices.DeleteFunc(slices.Clone(p.parts), func(w way) bool { return w.chance < 0 })
		if len(known) == 0 {
			why := "nothing lies ahead"
			if slices.ContainsFunc(p.parts, func(w way) bool { return w.leftOut > 0 }) {
				why = "not ready: something is left out"
			}
			s.text(barsEnd+14, line, why, style{size: 8, colour: quiet})
			continue
		}
		// The least sure part comes last, so that no other covers it.
		slices.SortStableFunc(known, func(a, b way) int { return cmp.Compare(b.chance, a.chance) })
		for _, w := range known {
			ring(s, at(w.chance), row+rowHeight/2)
		}
		least := known[len(known)-1]
		disc(s, at(least.chance), row+rowHeight/2)
		sum := model.Percent(least.chance)
		width := s.text(barsEnd+14, line, sum, style{size: 8, bold: true})
		s.text(barsEnd+20+width, line, least.work, style{size: 8, most: end - barsEnd - 20 - width})
	}
	s.line(fine, nil, ink, vg.Point{X: left, Y: y0}, vg.Point{X: left, Y: y1})
}

package chart

import (
	"fmt"
	"slices"

	"gonum.org/v1/plot/vg"

	"primaprova/model"
)

const loadHeight vg.Length = 120

// column is one bar of a load, and the cap over it.
type column struct {
	x0, x1                        vg.Length
	inset                         vg.Length
	services, other, planned, cap model.Minutes
}

func (d *data) column(l *model.Load, inset vg.Length) column {
	return column{d.x(l.Days.From), d.x(l.Days.To + 1), inset, l.InServices(), l.Other, l.WarmUp + l.Planned, l.Most}
}

func (s *sheet) days(d *data, y vg.Length) {
	var list []column
	for _, x := range d.days {
		list = append(list, d.column(&x.Load, (d.x(x.Days.To+1)-d.x(x.Days.From))/10))
	}
	s.load(d, y, "Playing by day, hours", list, true)
}

func (s *sheet) weeks(d *data, y vg.Length) {
	var list []column
	for _, w := range d.weeks {
		list = append(list, d.column(&w.Load, 2))
	}
	s.load(d, y, "Playing by week, hours", list, false)
}

// load draws bars of playing under the line of their caps.
func (s *sheet) load(d *data, y vg.Length, title string, list []column, byDay bool) {
	legend := []entry{
		{func(s *sheet, x, y vg.Length) { s.rect(x-5, y-half, x+5, y+half, services, nil) }, "rehearsals and concerts"},
		{swatch, "planned, warm-up included"},
		{func(s *sheet, x, y vg.Length) {
			s.line(1.2, nil, ink, vg.Point{X: x - 5, Y: y}, vg.Point{X: x + 5, Y: y})
		}, "cap"},
	}
	if byDay {
		legend = append(legend, entry{func(s *sheet, x, y vg.Length) {
			s.line(fine, dashes, quiet, vg.Point{X: x - 5, Y: y}, vg.Point{X: x + 5, Y: y})
		}, fmt.Sprintf("%d %% of it", d.heavy)})
	}
	if slices.ContainsFunc(d.days, func(x day) bool { return x.off }) {
		legend = append(legend, entry{func(s *sheet, x, y vg.Length) { s.rect(x-5, y-half, x+5, y+half, band, rule) }, "days off"})
	}
	if slices.ContainsFunc(list, func(c column) bool { return c.other > 0 }) {
		legend = slices.Insert(legend, 1, entry{func(s *sheet, x, y vg.Length) { s.other(x-5, y-half, x+5, y+half) }, "other playing"})
	}
	s.head(y, title, legend...)

	y0, y1 := y+headHeight, y+headHeight+loadHeight
	var most model.Minutes = 1
	for _, c := range list {
		most = max(most, c.cap, c.services+c.other+c.planned)
	}
	step := hourStep(most)
	most = (most + step - 1) / step * step
	at := func(m model.Minutes) vg.Length { return y1 - loadHeight*vg.Length(m)/vg.Length(most) }
	s.off(d, y0, y1)
	s.dates(d, y0, y1)
	for m := model.Minutes(0); m <= most; m += step {
		s.line(.5, nil, rule, vg.Point{X: left, Y: at(m)}, vg.Point{X: right, Y: at(m)})
		s.text(left-6, at(m)+3, m.Hours(), style{size: 8, colour: quiet, right: true})
	}
	var caps, heavies []vg.Point
	for _, c := range list {
		x0, x1 := c.x0+c.inset, c.x1-c.inset
		if c.services > 0 {
			s.rect(x0, at(c.services), x1, y1, services, nil)
		}
		if c.other > 0 {
			s.other(x0, at(c.services+c.other), x1, at(c.services))
		}
		if c.planned > 0 {
			s.rect(x0, at(c.services+c.other+c.planned), x1, at(c.services+c.other), planned, nil)
		}
		caps = append(caps, vg.Point{X: c.x0, Y: at(c.cap)}, vg.Point{X: c.x1, Y: at(c.cap)})
		heavy := at(c.cap * model.Minutes(d.heavy) / 100)
		heavies = append(heavies, vg.Point{X: c.x0, Y: heavy}, vg.Point{X: c.x1, Y: heavy})
	}
	if byDay {
		s.line(fine, dashes, quiet, heavies...)
	}
	s.line(1.2, nil, ink, caps...)
	s.line(fine, nil, ink, vg.Point{X: left, Y: y1}, vg.Point{X: right, Y: y1})
}

// other draws playing that belongs to no programme: in the tone of services, but
// hollow.
func (s *sheet) other(x0, y0, x1, y1 vg.Length) {
	s.rect(x0, y0, x1, y1, services, nil)
	if in := min(1.2, (x1-x0)/4, (y1-y0)/4); in > 0 {
		s.rect(x0+in, y0+in, x1-in, y1-in, paper, nil)
	}
}

package chart

import (
	"fmt"
	"time"

	"gonum.org/v1/plot/vg"

	"primaprova/model"
)

const axisHeight vg.Length = 16 // of the dates or figures below a panel

// x gives where a day begins.
func (d *data) x(on model.Date) vg.Length {
	return left + (right-left)*vg.Length(on-d.from)/vg.Length(d.to-d.from+1)
}

// middle gives the middle of a day, of the season's nearest day where it lies
// outside.
func (d *data) middle(on model.Date) vg.Length {
	on = min(max(on, d.from), d.to)
	return (d.x(on) + d.x(on+1)) / 2
}

// A season of more days than this is labelled by months, a shorter one by weeks.
const manyDays = 75

// dates draws the grid and the labels of the days below a panel that reaches
// from y0 to y1.
func (s *sheet) dates(d *data, y0, y1 vg.Length) {
	free := left // from where a label has room
	for on := d.from; on <= d.to; on++ {
		label, begins := d.label(on)
		if label == "" {
			continue
		}
		x := d.x(on)
		if begins {
			s.line(.5, nil, rule, vg.Point{X: x, Y: y0}, vg.Point{X: x, Y: y1 + 4})
		}
		quietly := style{size: 8, colour: quiet}
		if x >= free && x+3+s.width(label, quietly) <= right {
			free = x + 9 + s.text(x+3, y1+11, label, quietly)
		}
	}
	s.line(fine, nil, ink, vg.Point{X: left, Y: y1}, vg.Point{X: right, Y: y1})
}

// label gives what stands below a day, and whether a month or week begins on
// it. The season's first day has a label, whatever begins there.
func (d *data) label(on model.Date) (label string, begins bool) {
	t := on.Time()
	if d.to-d.from < manyDays {
		begins = on.Weekday() == d.locale.FirstWeekday
		label = d.locale.Brief(on)
	} else {
		begins = t.Day() == 1
		label = d.locale.ShortMonth(t.Month())
		if on == d.from || t.Month() == time.January {
			label += fmt.Sprintf(" %d", t.Year())
		}
	}
	if !begins && on != d.from {
		return "", false
	}
	return label, begins
}

// off shades days off behind a panel.
func (s *sheet) off(d *data, y0, y1 vg.Length) {
	for _, x := range d.days {
		if x.off {
			s.rect(d.x(x.Days.From), y0, d.x(x.Days.To+1), y1, band, nil)
		}
	}
}

// hourStep gives a step of whole or half hours that divides a scale into at
// most five.
func hourStep(most model.Minutes) model.Minutes {
	for _, step := range []model.Minutes{30, 60, 120, 300, 600, 1200} {
		if most <= 5*step {
			return step
		}
	}
	return (most/5/600 + 1) * 600
}

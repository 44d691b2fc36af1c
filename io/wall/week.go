package wall

import (
	"math"

	"primaprova/model"
)

// weekSheets gives a page for each week that has some of the days.
func (d *diary) weekSheets(page func(string) *sheet, days model.Range) []*sheet {
	var out []*sheet
	for _, w := range d.weeks(days) {
		year, n := d.locale.ISOWeekOf(w.From)
		s := page("Week " + itoa(n) + ", " + itoa(year))
		d.week(s, w)
		out = append(out, s)
	}
	return out
}

func (d *diary) week(s *sheet, days model.Range) {
	at := s.page()
	k := math.Sqrt(at.w * at.h / (790.0 * 543)) // 1 on A4
	about := clean(d.season.Title) + ": " + d.locale.Day(days.From) + " to " + d.locale.Day(days.To)
	if load := d.sum(days); load > 0 {
		about += ", " + load.Hours() + " of playing"
	}
	head, foot := 38*k, d.footer(s.fonts, days, at.w, at.h*0.3, 7*k, "2/4: the second visit of four", "last: minutes")
	d.heading(s, at.top(head), s.title, about, k)
	body := box{at.x, at.y + head, at.w, at.h - head - foot.height()}
	for i := range 7 {
		date := days.From + model.Date(i)
		c := box{body.x + float64(i)*body.w/7, body.y, body.w / 7, body.h}
		s.add(frame{c, 0.4, rule, false})
		s.write(d.locale.Weekday(date.Weekday()), style{10 * k, true, black}, c.in(4*k, 4*k).top(12*k))
		s.write(d.locale.Brief(date), style{8 * k, false, black}, c.in(4*k, 0).below(16*k).top(10*k))
		if x := d.on(date); x != nil {
			d.column(s, x, c.in(4*k, 4*k).below(25*k), k)
		}
	}
	d.foot(s, at, foot)
}

// column draws a day sheet: badges, sessions with boxes to tick, lines to write
// on, the day's sums.
func (d *diary) column(s *sheet, x *day, at box, k float64) {
	size := 7.2 * k
	used := s.flow(d.markChunks(x), slot{box: at, size: size, head: pitch(size), lines: 4})
	sums := box{at.x, at.bottom() - 20*k, at.w, 20 * k}
	list := box{at.x, at.y + float64(used)*pitch(size) + 3*k, at.w, 0}
	list.h = sums.y - 3*k - list.y
	sheet := d.sheets.On(x.date)
	rows, unit := d.rows(s.fonts, sheet.Lines, list, k)
	// Either all sessions of a day show when they begin, or none.
	text, clocks := min(7.4*k, unit*rowText, at.w/d.widest(s.fonts, rows, true)), true
	if text < clockText*k {
		text, clocks = max(min(7.4*k, unit*rowText, at.w/d.widest(s.fonts, rows, false)), leastText*k), false
	}
	y := list.y
	for i, r := range rows {
		c := box{list.x, y, list.w, r.height * unit}
		left := len(rows) - i
		if last := c.bottom() > list.bottom()+0.01; last || left > 1 && c.bottom()+unit > list.bottom()+0.01 {
			s.write("+"+itoa(left)+" more", style{text, true, black}, box{c.x, c.y + unit*0.2, c.w, max(0, list.bottom()-c.y-unit*0.2)})
			y = list.bottom()
			break
		}
		d.row(s, r, c, unit, text, k, clocks)
		y = c.bottom()
	}
	for y += tallRow * k * 1.2; y < list.bottom(); y += tallRow * k {
		s.add(line{list.x, y, list.right(), y, 0.5, faint})
	}
	d.sums(s, x, sums, 6.6*k)
}

// sums draws the day's bar and says its minutes.
func (d *diary) sums(s *sheet, x *day, at box, size float64) {
	d.bar(s, x, at.top(size), measures{text: size, bar: size, figures: true})
	if x.listening > 0 {
		s.write("and "+x.listening.String()+" of listening", style{size, false, black}, at.below(size*1.5))
	}
}

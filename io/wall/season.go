package wall

import (
	"math"

	"primaprova/model"
)

// grid is how a season's weeks lie on a sheet: in blocks side by side, a week a
// row.
type grid struct {
	blocks, rows int
	w, h         float64 // of a day's cell
}

// A day's cell in sizes of its text: the least it may measure, so that its number
// and a badge can be read from a metre; from where on it also lists what is worked
// at; and the shape it should have.
const (
	leastWidth, leastHeight = 3.7, 2.5
	listWidth, listHeight   = 9.0, 6.5
	wantedShape             = 2.0 // width by height
)

// afar is the size of text on A3 that is read from a metre: capitals of ten
// minutes of arc, which eyes of full sight read at ease (twice the five minutes of
// a letter on a chart for full sight; common practice, no source).
const afar = 11.7

// gridFor lays some weeks out in an area with cells of the shape closest to the
// wanted one. It tells whether they can be read.
func gridFor(weeks int, at box, gutter, size float64) (best grid, ok bool) {
	for blocks := 1; blocks <= 6 && blocks <= weeks; blocks++ {
		rows := (weeks + blocks - 1) / blocks
		g := grid{blocks, rows, ((at.w+gutter/2)/float64(blocks) - gutter*1.5) / 7, at.h / float64(rows)}
		if g.w < leastWidth*size || g.h < leastHeight*size {
			continue
		}
		if best.rows == 0 || g.misshape() < best.misshape() {
			best = g
		}
	}
	if best.rows == 0 {
		return grid{1, weeks, (at.w - gutter) / 7, at.h / float64(weeks)}, false
	}
	return best, true
}

func (g grid) misshape() float64 { return math.Abs(math.Log(g.w / g.h / wantedShape)) }

// seasonSheets lays all weeks out, on one sheet where they can be read on it,
// else on as few as can be.
func (d *diary) seasonSheets(page func(string) *sheet, days model.Range) []*sheet {
	weeks := d.weeks(days)
	for n := 1; ; n++ {
		each := (len(weeks) + n - 1) / n
		var out []*sheet
		fits := true
		for from := 0; from < len(weeks); from += each {
			part := weeks[from:min(len(weeks), from+each)]
			s := page(d.title)
			fits = d.weeksOn(s, part, model.Range{From: max(days.From, part[0].From), To: min(days.To, part[len(part)-1].To)}) && fits
			out = append(out, s)
		}
		if fits || each == 1 {
			return out
		}
	}
}

// weeks gives the reader's weeks that hold some of the days.
func (d *diary) weeks(days model.Range) []model.Range {
	var out []model.Range
	for w := d.locale.WeekOf(days.From); w.From <= days.To; w = d.locale.WeekOf(w.To + 1) {
		out = append(out, w)
	}
	return out
}

// weeksOn draws weeks on a sheet; it tells whether they can be read there.
func (d *diary) weeksOn(s *sheet, weeks []model.Range, days model.Range) bool {
	at := s.page()
	k := scaleOf(at, 1138.0*790) // 1 on A3
	size := max(leastText, afar*k)
	small := max(leastText, 9*k)
	head, heading, gutter := 34*k, pitch(small), size*3.4
	foot := d.footer(s.fonts, days, at.w, at.h*0.3, small, footing{heat: true})
	body := box{at.x, at.y + head + heading, at.w, at.h - head - heading - foot.height()}
	g, ok := gridFor(len(weeks), body, gutter, size)
	if list := min(g.w/listWidth, g.h/listHeight); list > size { // few weeks: text grows with the cells
		size = min(list, 1.6*size)
		foot = d.footer(s.fonts, days, at.w, at.h*0.3, small, footing{names: true})
		body.h = at.h - head - heading - foot.height()
		g, ok = gridFor(len(weeks), body, gutter, size)
	}
	d.heading(s, at.top(head), s.title, d.locale.Long(days.From)+" to "+d.locale.Long(days.To), small, k)
	for b := range g.blocks {
		x := at.x + float64(b)*(7*g.w+gutter*1.5)
		d.weekdays(s, box{x + gutter, at.y + head, 7 * g.w, heading}, small, g.w < 60*k)
		for r := range min(g.rows, len(weeks)-b*g.rows) {
			row := box{x, body.y + float64(r)*g.h, gutter + 7*g.w, g.h}
			d.weekRow(s, weeks[b*g.rows+r], days, row, gutter, size, g.w >= listWidth*size && g.h >= listHeight*size)
		}
	}
	d.foot(s, at, foot)
	return ok
}

// weekRow draws a week: its number in the gutter, then its days. Months are parted
// by a heavy line.
func (d *diary) weekRow(s *sheet, week, days model.Range, at box, gutter, size float64, list bool) {
	_, n := d.locale.ISOWeekOf(week.From)
	s.write(itoa(n), style{size, true, quiet}, at.left(gutter).in(2, size*0.39))
	w := (at.w - gutter) / 7
	for i := range 7 {
		date := week.From + model.Date(i)
		x := d.on(date)
		if x == nil || !days.Holds(date) {
			continue
		}
		c := box{at.x + gutter + float64(i)*w, at.y, w, at.h}
		if list {
			d.cell(s, x, c, measures{number: size * 1.3, text: size, bar: size, figures: true})
		} else {
			d.glance(s, x, c, size)
		}
		if date.Time().Day() <= 7 && date-7 >= days.From { // the week above is another month's
			s.add(line{c.x, c.y, c.right(), c.y, 1.3, black})
		}
		if date.Time().Day() == 1 && i > 0 && date > days.From {
			s.add(line{c.x, c.y, c.x, c.bottom(), 1.3, black})
		}
	}
}

// weekdays names the columns.
func (d *diary) weekdays(s *sheet, at box, size float64, narrow bool) {
	w := at.w / 7
	for i, day := range d.locale.Week() {
		name := d.locale.Weekday(day)
		if narrow {
			name = d.locale.ShortWeekday(day)
		}
		s.write(name, style{size, true, quiet}, box{at.x + float64(i)*w, at.y + 1, w, at.h}.in(size*0.4, 0))
	}
}

// heading puts a page's title on the left, and what it covers on the right in its
// text's size.
func (d *diary) heading(s *sheet, at box, title, about string, size, k float64) {
	large, small := style{24 * k, true, black}, style{size, false, black}
	w := min(s.fonts.measure(about, false, small.size), at.w-14*k-min(0.55*at.w, s.fonts.measure(title, true, large.size)))
	s.writeRight(about, small, box{at.right() - w, at.y + 9*k, w, small.size * 1.2})
	s.write(title, large, box{at.x, at.y, at.w - w - 12*k, 30 * k})
}

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

// The least a day's cell may measure, in points, so that its words can be read
// on paper in the hand; and the shape it should have.
const (
	leastWidth, leastHeight = 44, 21
	wantedShape             = 2.6 // width by height
)

// gridFor lays some weeks out in an area with cells of the shape closest to the
// wanted one. It tells whether they can be read.
func gridFor(weeks int, at box, gutter float64) (best grid, ok bool) {
	for blocks := 1; blocks <= 6 && blocks <= weeks; blocks++ {
		rows := (weeks + blocks - 1) / blocks
		g := grid{blocks, rows, ((at.w+gutter/2)/float64(blocks) - gutter*1.5) / 7, min(at.h/float64(rows), 90)}
		if g.w < leastWidth || g.h < leastHeight {
			continue
		}
		if best.rows == 0 || g.misshape() < best.misshape() {
			best = g
		}
	}
	if best.rows == 0 {
		return grid{1, weeks, (at.w - gutter) / 7, min(at.h/float64(weeks), 90)}, false
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
			s := page(clean(d.season.Title))
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
	k := math.Sqrt(at.w * at.h / (1138.0 * 790)) // 1 on A3
	head, heading, gutter := 34*k, 13*k, 30*k
	foot := d.footer(s.fonts, days, at.w, at.h*0.3, 7.2*k, visitsSay, weekSay)
	body := box{at.x, at.y + head + heading, at.w, at.h - head - heading - foot.height()}
	g, ok := gridFor(len(weeks), body, gutter)
	d.heading(s, at.top(head), s.title, d.locale.Long(days.From)+" to "+d.locale.Long(days.To), k)
	for b := range g.blocks {
		x := at.x + float64(b)*(7*g.w+gutter*1.5)
		d.weekdays(s, box{x + gutter, at.y + head, 7 * g.w, heading}, 6.6*k, g.w < 60*k)
		for r := range min(g.rows, len(weeks)-b*g.rows) {
			row := box{x, body.y + float64(r)*g.h, gutter + 7*g.w, g.h}
			d.weekRow(s, weeks[b*g.rows+r], days, row, gutter, seasonMeasures(g.h, k))
		}
	}
	d.foot(s, at, foot)
	return ok
}

// seasonMeasures gives the sizes for cells of a height: words of 4.5 points
// at least, which can be read in the hand; from across the room the badges and
// bars speak.
func seasonMeasures(h, k float64) measures {
	text := min(max(h*0.164, 4.5), 7.5*k+1)
	return measures{number: text * 1.35, text: text, bar: min(max(h*0.15, 3.6), 7*k)}
}

// weekRow draws a week: its number and load in the gutter, then its days.
// Months are parted by a heavy line.
func (d *diary) weekRow(s *sheet, week, days model.Range, at box, gutter float64, m measures) {
	_, n := d.locale.ISOWeekOf(week.From)
	g := at.left(gutter).in(2, m.text*0.4)
	s.write(itoa(n), style{m.number, true, quiet}, g)
	if load := d.sum(week); load > 0 {
		s.write(load.Hours(), style{m.text, false, quiet}, g.below(m.number*1.15))
	}
	w := (at.w - gutter) / 7
	for i := range 7 {
		date := week.From + model.Date(i)
		x := d.on(date)
		if x == nil || !days.Holds(date) {
			continue
		}
		c := box{at.x + gutter + float64(i)*w, at.y, w, at.h}
		d.cell(s, x, c, m)
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

// heading puts a page's title on the left, and what it covers on the right.
func (d *diary) heading(s *sheet, at box, title, about string, k float64) {
	large, small := style{24 * k, true, black}, style{10 * k, false, black}
	w := min(s.fonts.measure(about, false, small.size), at.w-14*k-min(0.55*at.w, s.fonts.measure(title, true, large.size)))
	s.writeRight(about, small, box{at.right() - w, at.y + 9*k, w, small.size * 1.2})
	s.write(title, large, box{at.x, at.y, at.w - w - 12*k, 30 * k})
}

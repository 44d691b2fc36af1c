package wall

import (
	"math"

	"primaprova/model"
)

// leastText is the smallest size of any text, in points.
const leastText = 7.5

// weekSheets gives the pages of each week that has some of the days.
func (d *diary) weekSheets(page func(string) *sheet, days model.Range) []*sheet {
	var out []*sheet
	for _, w := range d.weeks(days) {
		out = append(out, d.week(page, w)...)
	}
	return out
}

// column is a day, or what of a long one fits beside the rest of it.
type column struct {
	day   *day
	date  model.Date
	rows  []row
	lead  lead
	width float64
	again bool // a day goes on
}

// setting is how a week is set: the one size of its text, its foot, the room of
// its columns.
type setting struct {
	size  float64
	foot  footer
	body  box
	rests float64 // height of a column without its rows and badges
}

// week lays a week out on as few pages as hold it: nothing of a day is left away.
// On one page the text is as large as fits, and says what to do where it can.
func (d *diary) week(page func(string) *sheet, days model.Range) []*sheet {
	year, n := d.locale.ISOWeekOf(days.From)
	title := "Week " + itoa(n) + ", " + itoa(year)
	var best [][]column
	var with setting
	k := scaleOf(page("").page(), 790.0*543) // 1 on A4
	for _, try := range []struct {
		do   bool
		size float64
	}{{true, 9.5}, {true, 9}, {true, 8.5}, {true, 8}, {false, 9.5}, {false, 9}, {false, 8.5}, {false, 8}, {false, leastText}} {
		t := d.setting(page(""), days, max(leastText, try.size*k), k)
		if pages := d.paged(page("").fonts, days, t, try.do); best == nil || len(pages) < len(best) {
			best, with = pages, t
		}
		if len(best) == 1 {
			break
		}
	}
	var out []*sheet
	for i, columns := range best {
		name := title
		if len(best) > 1 {
			name += ", page " + itoa(i+1) + " of " + itoa(len(best))
		}
		s := page(name)
		d.weekPage(s, columns, days, with, k)
		out = append(out, s)
	}
	return out
}

func scaleOf(at box, of float64) float64 { return math.Sqrt(at.w * at.h / of) }

func (d *diary) setting(s *sheet, days model.Range, size, k float64) setting {
	at := s.page()
	t := setting{size: size, foot: d.footer(s.fonts, days, at.w, at.h*0.4, size, footing{says: []string{"4/6: the fourth visit of six, then minutes"}, names: true})}
	t.body = box{at.x, at.y + 36*k, at.w, at.h - 36*k - t.foot.height()}
	t.rests = 12*k + 2*pitch(size) + 4*pitch(size)*0.5 + pitch(size)
	return t
}

// paged gives the columns of each page, in the order of the days.
func (d *diary) paged(f *fonts, days model.Range, t setting, do bool) [][]column {
	var all []column
	for date := days.From; date <= days.To; date++ {
		x := d.on(date)
		if x == nil {
			all = append(all, column{date: date, width: t.size * 6})
			continue
		}
		rows := d.rows(f, d.Sheet(date).Lines, do)
		all = append(all, d.narrowest(f, column{day: x, date: date, rows: rows, lead: d.lead(f, rows)}, t)...)
	}
	var pages [][]column
	left := 0.0
	for _, c := range all {
		if len(pages) == 0 || c.width > left+0.01 {
			pages, left = append(pages, nil), t.body.w
		}
		pages[len(pages)-1] = append(pages[len(pages)-1], c)
		left -= c.width
	}
	for _, p := range pages { // what room is left makes columns wider, full ones more
		left := t.body.w
		for i := range p {
			left -= p[i].width
		}
		rows := 0
		for i := range p {
			rows += 2 + len(p[i].rows)
		}
		for i := range p { // but where its words then break in a way that takes more lines
			if wide := p[i].width + left*float64(2+len(p[i].rows))/float64(rows); p[i].day == nil || d.taken(f, p[i], wide, t) <= t.body.h {
				p[i].width = wide
			}
		}
	}
	return pages
}

// narrowest gives a day the least width that holds all of it; a day that no width
// holds goes on in more columns.
func (d *diary) narrowest(f *fonts, c column, t setting) []column {
	least := (c.lead.words + 6.5) * t.size
	if len(c.rows) == 0 {
		least = 8 * t.size
	}
	fits := func(w float64) bool { return d.taken(f, c, w, t) <= t.body.h }
	if c.width = t.body.w; !fits(c.width) {
		return d.divided(f, c, t)
	}
	for low := min(least, t.body.w); c.width-low > t.size/4; {
		if mid := (low + c.width) / 2; fits(mid) {
			c.width = mid
		} else {
			low = mid
		}
	}
	return []column{c}
}

// taken is the height of a column at a width.
func (d *diary) taken(f *fonts, c column, width float64, t setting) float64 {
	width -= t.size // the column's margins
	sum := t.rests
	if !c.again {
		_, lines := d.badges(&sheet{fonts: f}, c.day, box{0, 0, width, 1000}, t.size)
		sum += float64(lines) * pitch(t.size)
	}
	for _, r := range c.rows {
		_, last := wrapped(f, r.words, width/t.size-c.lead.words, r.end)
		sum += float64(last+1) * pitch(t.size)
	}
	return sum
}

// divided spreads a day's rows over columns of half a page.
func (d *diary) divided(f *fonts, c column, t setting) []column {
	var out []column
	part := column{day: c.day, date: c.date, lead: c.lead, width: t.body.w / 2}
	for _, r := range c.rows {
		more := part
		more.rows = append(more.rows[:len(more.rows):len(more.rows)], r)
		if len(part.rows) > 0 && d.taken(f, more, more.width, t) > t.body.h {
			out = append(out, part)
			more = part
			more.again, more.rows = true, []row{r}
		}
		part = more
	}
	return append(out, part)
}

func (d *diary) weekPage(s *sheet, columns []column, days model.Range, t setting, k float64) {
	at := s.page()
	about := clean(d.title) + ": " + d.locale.Day(days.From) + " to " + d.locale.Day(days.To)
	if load := d.sum(days); load > 0 {
		about += ", " + load.Hours() + " of playing"
	}
	if other := d.Loads().During(days).Other; other > 0 {
		about += ", " + other.Hours() + " of it otherwise"
	}
	d.heading(s, at.top(36*k), s.title, about, t.size, k)
	x := t.body.x
	for _, c := range columns {
		b := box{x, t.body.y, c.width, t.body.h}
		x += c.width
		s.add(frame{b, 0.4, rule, false})
		head := b.in(t.size/2, 4*k)
		day := d.locale.Weekday(c.date.Weekday())
		if s.fonts.measure(day, true, 10*k) > head.w {
			day = d.locale.ShortWeekday(c.date.Weekday())
		}
		s.write(day, style{10 * k, true, black}, head.top(12*k))
		date := d.locale.Brief(c.date)
		if c.again {
			date += ", continued"
		}
		s.write(date, style{t.size, false, black}, head.below(12*k).top(pitch(t.size)))
		if c.day != nil {
			d.column(s, c, b.in(t.size/2, 0).below(12*k+4*k+pitch(t.size)), t)
		}
	}
	d.foot(s, at, t.foot)
}

// badges says a day's services and ready-by dates, in as many lines as they take.
func (d *diary) badges(s *sheet, x *day, at box, size float64) (slot, int) {
	chunks := d.markChunks(x)
	l := slot{box: at, size: size, head: pitch(size), lines: 2 * len(chunks)}
	return l, s.arranged(chunks, l)
}

// column draws a day sheet: badges, sessions with boxes to tick, lines to write
// on, the day's sums.
func (d *diary) column(s *sheet, c column, at box, t setting) {
	size := t.size
	sums := box{at.x, at.bottom() - 2.2*pitch(size), at.w, 2.2 * pitch(size)}
	y := at.y
	if !c.again {
		l, _ := d.badges(s, c.day, at, size)
		y += float64(s.flow(d.markChunks(c.day), l)) * pitch(size)
	}
	y += size * 0.3
	for _, r := range c.rows {
		_, last := wrapped(s.fonts, r.words, at.w/size-c.lead.words, r.end)
		h := float64(last+1) * pitch(size)
		d.row(s, r, c.lead, box{at.x, y, at.w, h}, size)
		y += h
	}
	for y += 1.9 * size; y < sums.y-size*0.3; y += 1.9 * size {
		s.add(line{at.x, y, at.right(), y, 0.5, faint})
	}
	if c.again {
		return
	}
	d.bar(s, c.day, sums.top(size), measures{text: size, bar: size, figures: true})
	if c.day.listening > 0 {
		s.write(c.day.listening.String()+" of listening", style{size, false, black}, sums.below(size*1.2))
	}
}

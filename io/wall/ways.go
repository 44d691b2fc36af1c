package wall

import (
	"slices"

	"primaprova/model"
)

// scale places days from left to right.
type scale struct {
	days model.Range
	x    float64 // where the first day begins
	unit float64 // width of a day
}

func (a scale) at(d model.Date) float64 {
	return a.x + float64(min(max(d, a.days.From), a.days.To+1)-a.days.From)*a.unit
}

// On a sheet of parts: the column of titles, the chart of weeks, a part's row.
const (
	titleWidth          = 150.0
	weeksHeight         = 74.0
	leastPart, tallPart = 1.4, 1.8 // in sizes of the text
	tallestVisits       = 60       // minutes a day that take half a row's height
)

// waySheets shows each part's way from its arrival to its first rehearsal, below
// the load of the weeks, on as many sheets as the parts need.
func (d *diary) waySheets(page func(string) *sheet, days model.Range) []*sheet {
	left := d.during(days)
	var out []*sheet
	for len(out) == 0 || len(left) > 0 {
		s := page("Parts from arrival to ready")
		left = left[d.ways(s, left, days):]
		out = append(out, s)
	}
	return out
}

// ways draws a sheet; it gives the number of programmes that it has room for,
// one at least where there are any.
func (d *diary) ways(s *sheet, shown []*programme, days model.Range) int {
	at := s.page()
	k := scaleOf(at, 1138.0*790) // 1 on A3
	size := max(leastText, 7.6*k)
	foot := d.footer(s.fonts, days, at.w, at.h*0.2, size, footing{ways: true})
	head, months := 34*k, pitch(size)*1.2
	d.heading(s, at.top(head), s.title, d.title+", "+d.locale.Brief(days.From)+" to "+d.locale.Brief(days.To), size, k)
	body := box{at.x, at.y + head, at.w, at.h - head - foot.height()}
	a := scale{days, body.x + titleWidth*k, (body.w - titleWidth*k) / float64(days.Days())}
	rows := body.below(months + (weeksHeight+8)*k)

	n, count := 0, 0
	for ; n < len(shown); n++ {
		more := 1 + len(shown[n].Parts)
		if n > 0 && rows.h/float64(count+more) < leastPart*size {
			break
		}
		count += more
	}
	h := min(tallPart*size, rows.h/float64(max(1, count)))
	d.months(s, a, box{body.x, body.y, body.w, months + (weeksHeight+8)*k + h*float64(count)}, months, size)
	d.columns(s, a, box{body.x, body.y + months, body.w, weeksHeight * k}, size)
	y := rows.y
	for _, q := range shown[:n] {
		d.way(s, a, q, box{body.x, y, titleWidth * k, h}, size)
		y += h * float64(1+len(q.Parts))
	}
	d.foot(s, at, foot)
	return n
}

// months names the months above an area and parts them by lines.
func (d *diary) months(s *sheet, a scale, at box, height, size float64) {
	for date := a.days.From; date <= a.days.To; {
		y, m, _ := date.Time().Date()
		next := model.NewDate(y, m+1, 1)
		x := a.at(date)
		s.write(d.locale.Month(m), style{size, true, quiet}, box{x + size*0.3, at.y, a.at(next) - x - size*0.4, height})
		s.add(line{x, at.y + height, x, at.bottom(), 0.4, faint})
		date = next
	}
}

// columns draws the weeks' playing as columns, each in a frame as high as what
// its days allow together.
func (d *diary) columns(s *sheet, a scale, at box, size float64) {
	type week struct {
		days   model.Range
		shares day
		load   model.Load
	}
	var weeks []week
	most, caps := model.Minutes(1), model.Minutes(0)
	for _, r := range d.weeks(a.days) {
		w := week{days: model.Range{From: max(r.From, a.days.From), To: min(r.To, a.days.To)}}
		for date := w.days.From; date <= w.days.To; date++ {
			x := d.on(date)
			for _, sh := range x.shares {
				w.shares.add(sh)
			}
		}
		w.load = d.Loads().During(w.days)
		caps = max(caps, w.load.Most)
		most = max(most, caps, w.load.Playing())
		weeks = append(weeks, w)
	}
	text := at.left(a.x - at.x - size)
	s.write("Playing by week", style{size, true, black}, text)
	s.write("frame: its days' caps, up to "+caps.Hours(), style{size, false, quiet}, text.below(size*1.5))
	for _, w := range weeks {
		column := box{a.at(w.days.From) + 0.6, at.y, a.at(w.days.To+1) - a.at(w.days.From) - 1.2, at.h}
		unit, y := at.h/float64(most), at.bottom()
		slices.SortStableFunc(w.shares.shares, byKind)
		for _, sh := range w.shares.shares {
			part := box{column.x, y - unit*float64(sh.minutes), column.w, unit * float64(sh.minutes)}
			y = part.y
			d.share(s, sh, part)
		}
		if w.load.Most > 0 {
			h := unit * float64(w.load.Most)
			s.add(frame{box{column.x, at.bottom() - h, column.w, h}, 0.5, quiet, false})
		}
	}
}

// way draws a programme: its title and a row for each of its parts. The box is
// the first row's place for a title.
func (d *diary) way(s *sheet, a scale, q *programme, at box, size float64) {
	title := at.below((at.h - size*(ascent+descent)) * 0.6)
	title.w -= size
	title = title.beside(s.write(q.look.letter, style{size, true, q.look.tone}, title) + gap(size))
	s.write(q.title, style{size, true, black}, title)
	gemAt := func(date model.Date, full bool) {
		side := at.h * 0.6
		s.add(gem{box{a.at(date) + a.unit/2 - side/2, at.y + at.h*0.2, side, side}, q.look.tone, full})
	}
	if q.ready != 0 && a.days.Holds(q.ready) {
		gemAt(q.ready, false)
	}
	if x := a.at(q.first) + a.unit/2; q.first != 0 && a.days.Holds(q.first) {
		s.add(line{x, at.y + at.h*0.5, x, at.y + at.h*float64(1+len(q.Parts)), 1, q.look.tone})
		gemAt(q.first, true)
	}
	for i := range q.Parts {
		row := box{at.x, at.y + at.h*float64(i+1), at.w, at.h}
		name := d.parts[model.PartName(q.ID, q.Parts[i].ID)]
		s.add(line{row.x, row.y, a.at(a.days.To + 1), row.y, 0.25, faint})
		s.write(name.title, style{size, false, black}, row.beside(size*1.2).below((at.h-size*(ascent+descent))*0.6).left(at.w-size*2.2))
		end := q.first
		if end == 0 {
			end = a.days.To
		}
		if from, to := a.at(q.Parts[i].Arrives), a.at(end); to > from {
			mid := row.y + row.h*0.5
			s.add(line{from, mid, to, mid, 0.5, quiet})
			if a.days.Holds(q.Parts[i].Arrives) {
				s.add(line{from, mid - row.h*0.3, from, mid + row.h*0.3, 0.9, quiet})
			}
		}
		for date := a.days.From; date <= a.days.To; date++ {
			for _, p := range d.on(date).pieces {
				if p.part == name {
					d.dayOfPart(s, p, box{a.at(date), row.y + 0.6, a.unit, row.h - 1.2}, q.look.tone)
				}
			}
		}
	}
}

// dayOfPart draws what a part gets on a day, so that no sign covers another: in the
// upper half of the row what is listened to, in the lower half what is played.
func (d *diary) dayOfPart(s *sheet, p piece, at box, tone ink) {
	upper, lower := at.top(at.h/2), at.below(at.h/2)
	if slices.Contains(p.stages, string(model.ListeningStage)) || slices.Contains(p.stages, string(model.RecordingsStage)) {
		s.add(area{square(upper), paper, true}, frame{square(upper), 0.8, tone, true})
	}
	if p.visits > 0 {
		h := lower.h * min(1, max(0.35, float64(p.minutes)/tallestVisits))
		stroke := box{at.x + at.w*0.15, lower.y, at.w * 0.7, h}
		if slices.Contains(p.stages, string(model.ReadStage)) { // beside the box
			stroke.x, stroke.w = at.x+at.w*0.7, at.w*0.3
		}
		s.add(area{box: stroke, ink: tone})
	}
	if slices.Contains(p.stages, string(model.ReadStage)) {
		m := square(lower)
		if p.visits > 0 {
			m.x = at.x + at.w*0.65 - m.w
		}
		s.add(area{box: m, ink: paper}, frame{m, 0.8, tone, false})
	}
}

// square gives the sign's place in half a row.
func square(b box) box {
	side := min(b.h, max(b.w, 3)) - 0.4
	return box{b.x + b.w/2 - side/2, b.y + (b.h-side)/2, side, side}
}

// waySigns is the key of what stands in a part's row.
func waySigns(with func(string, func(box) []item)) {
	with("arrives", func(b box) []item {
		return []item{line{b.x, b.y + b.h/2, b.right(), b.y + b.h/2, 0.5, quiet}, line{b.x, b.y, b.x, b.bottom(), 0.9, quiet}}
	})
	with("above: listening, recordings", func(b box) []item { return []item{frame{square(b.top(b.h * 0.6)), 0.8, black, true}} })
	with("below: read-through", func(b box) []item { return []item{frame{square(b.below(b.h * 0.4)), 0.8, black, false}} })
	with("below: visits, the more minutes the taller", func(b box) []item {
		return []item{area{box: box{b.x + b.w/2 - 1.5, b.y + b.h*0.4, 3, b.h * 0.6}, ink: black}}
	})
	with("first rehearsal", func(b box) []item { return []item{gem{square(b), black, true}} })
}

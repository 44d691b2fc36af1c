package wall

import (
	"math"
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
	titleWidth           = 150.0
	weeksHeight          = 74.0
	leastPart, tallPart  = 8.0, 13.0
	tallestVisits        = 60 // minutes a day that take a row's whole height
	waysSay, waysStrokes = "ring: listening or recordings", "stroke: visits, the more minutes the taller"
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
	k := math.Sqrt(at.w * at.h / (1138.0 * 790)) // 1 on A3
	foot := d.footer(s.fonts, days, at.w, at.h*0.2, 7.2*k, waysSay, "box: read-through", waysStrokes, "line down: first rehearsal")
	head, months := 34*k, 12*k
	d.heading(s, at.top(head), s.title, clean(d.season.Title)+", "+d.locale.Brief(days.From)+" to "+d.locale.Brief(days.To), k)
	body := box{at.x, at.y + head, at.w, at.h - head - foot.height()}
	a := scale{days, body.x + titleWidth*k, (body.w - titleWidth*k) / float64(days.Days())}
	rows := body.below(months + (weeksHeight+8)*k)

	n, count := 0, 0
	for ; n < len(shown); n++ {
		more := 1 + len(shown[n].Parts)
		if n > 0 && rows.h/float64(count+more) < leastPart*k {
			break
		}
		count += more
	}
	h := min(tallPart*k, rows.h/float64(max(1, count)))
	d.months(s, a, box{body.x, body.y, body.w, months + (weeksHeight+8)*k + h*float64(count)}, months, 6.6*k)
	d.columns(s, a, box{body.x, body.y + months, body.w, weeksHeight * k}, 6.6*k)
	y := rows.y
	for _, q := range shown[:n] {
		d.way(s, a, q, box{body.x, y, titleWidth * k, h}, k)
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
	most := model.Minutes(1)
	for _, r := range d.weeks(a.days) {
		w := week{days: model.Range{From: max(r.From, a.days.From), To: min(r.To, a.days.To)}}
		for date := w.days.From; date <= w.days.To; date++ {
			x := d.on(date)
			for _, sh := range x.shares {
				w.shares.add(sh)
			}
		}
		w.load = d.loads.During(w.days)
		most = max(most, w.load.Most, w.load.Playing())
		weeks = append(weeks, w)
	}
	text := at.left(a.x - at.x - size)
	s.write("Playing by week", style{size * 1.1, true, black}, text)
	s.write("frame: its days' caps, up to "+most.Hours(), style{size, false, quiet}, text.below(size*1.5))
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
func (d *diary) way(s *sheet, a scale, q *programme, at box, k float64) {
	size := min(7*k, at.h*0.72)
	title := at.below((at.h - size*(ascent+descent)) * 0.6)
	title.w -= size
	title = title.beside(s.write(q.look.letter, style{size, true, q.look.tone}, title) + gap(size))
	s.write(q.title, style{size, true, black}, title)
	if x := a.at(q.first); q.first != 0 && a.days.Holds(q.first) {
		s.add(line{x, at.y + at.h*0.2, x, at.y + at.h*float64(1+len(q.Parts)), 1.2, q.look.tone})
	}
	if q.ready != 0 && a.days.Holds(q.ready) {
		s.add(flag{box{a.at(q.ready), at.y + at.h*0.3, at.h * 0.45, at.h * 0.5}, q.look.tone})
	}
	for i := range q.Parts {
		row := box{at.x, at.y + at.h*float64(i+1), at.w, at.h}
		name := d.parts[model.PartName(q.ID, q.Parts[i].ID)]
		s.write(name.title, style{size, false, black}, row.beside(size*1.2).below((at.h-size*(ascent+descent))*0.6).left(at.w-size*2.2))
		end := q.first
		if end == 0 {
			end = a.days.To
		}
		if from, to := a.at(q.Parts[i].Arrives), a.at(end); to > from {
			s.add(line{from, row.bottom() - 1, to, row.bottom() - 1, 0.5, quiet})
		}
		for date := a.days.From; date <= a.days.To; date++ {
			for _, p := range d.on(date).pieces {
				if p.part == name {
					d.dayOfPart(s, p, box{a.at(date), row.y + 1, a.unit, row.h - 2.4}, q.look.tone)
				}
			}
		}
	}
}

// dayOfPart draws what a part gets on a day.
func (d *diary) dayOfPart(s *sheet, p piece, at box, tone ink) {
	if p.visits > 0 {
		h := at.h * min(1, max(0.2, float64(p.minutes)/tallestVisits))
		s.add(area{box: box{at.x + at.w*0.15, at.bottom() - h, at.w * 0.7, h}, ink: tone})
		return
	}
	side := min(at.h, max(at.w, 3))
	mark := box{at.x + at.w/2 - side/2, at.bottom() - side, side, side}
	s.add(area{mark, paper, !slices.Contains(p.stages, string(model.ReadStage))})
	s.add(frame{mark, 0.8, tone, !slices.Contains(p.stages, string(model.ReadStage))})
}

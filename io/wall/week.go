package wall

import (
	"math"
	"strings"

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

// row is a line of a day sheet: a part's heading, or a session with its box.
type row struct {
	part    *part
	session *model.Session
}

func (d *diary) rows(x *day) []row {
	var out []row
	above := ""
	for _, s := range x.sessions {
		if s.Part != "" && s.Part != above {
			q := d.parts[s.Part]
			if q == nil { // a part that the season no longer has
				q = &part{clean(s.Part), clean(s.Part), -1}
			}
			out = append(out, row{part: q})
		}
		above = s.Part
		out = append(out, row{session: s})
	}
	return out
}

// The height of a row of a day sheet on A4, where it is free and where it has to
// be small; and the part of it that its words take.
const (
	tallRow, leastRow = 13.0, 8.2
	rowText           = 0.6
	leastText         = 4.9
)

// Of a session's row, in sizes of its text: the box to tick with the gap after
// it, the gap between columns.
const tickWidth, rowGap = 1.45, 0.5

// widest gives the width that a day's widest session needs in its fewest words,
// its start left away, in sizes of the text.
func (d *diary) widest(f *fonts, x *day) float64 {
	out := 1.0
	for _, v := range x.sessions {
		words := d.sessionWords(v)
		minutes := max(f.measure("88", false, 1), f.measure(itoa(int(v.Minutes)), false, 1))
		w := tickWidth + f.measure(words[len(words)-1], false, 1) + rowGap + minutes
		if v.Visit != nil && v.Visits != nil {
			w += f.measure(visitOf(v), false, 1) + rowGap
		}
		out = max(out, w*1.001)
	}
	return out
}

func visitOf(v *model.Session) string { return itoa(*v.Visit) + "/" + itoa(*v.Visits) }

// column draws a day sheet: badges, sessions with boxes to tick, lines to write
// on, the day's sums.
func (d *diary) column(s *sheet, x *day, at box, k float64) {
	size := 7.2 * k
	marks := slot{box: at, size: size, head: pitch(size), lines: 4}
	used := s.flow(d.markChunks(x), marks)
	sums := box{at.x, at.bottom() - 20*k, at.w, 20 * k}
	list := box{at.x, at.y + float64(used)*pitch(size) + 3*k, at.w, 0}
	list.h = sums.y - 3*k - list.y
	rows := d.rows(x)
	h := min(tallRow*k, list.h/float64(max(1, len(rows))))
	fit := len(rows)
	if h < leastRow*k {
		h = leastRow * k
		fit = max(0, int(list.h/h)-1)
	}
	text := max(min(7.4*k, h*rowText, at.w/d.widest(s.fonts, x)), leastText*k)
	for i, r := range rows[:fit] {
		c := list.below(float64(i) * h).top(h)
		if r.part != nil {
			d.partRow(s, r.part, c, text)
		} else {
			d.sessionRow(s, r.session, c, text)
		}
	}
	if left := len(rows) - fit; left > 0 {
		s.write("+"+itoa(left)+" more", style{text, true, black}, list.below(float64(fit)*h).top(h).below(h*0.2))
		fit++
	}
	for y := list.y + (float64(fit)+1.2)*h; y < list.bottom(); y += tallRow * k {
		s.add(line{list.x, y, list.right(), y, 0.5, faint})
	}
	d.sums(s, x, sums, 6.6*k)
}

// partRow names a part before its sessions.
func (d *diary) partRow(s *sheet, q *part, c box, size float64) {
	c = c.below((c.h - size*(ascent+descent)) * 0.75)
	if q.programme >= 0 {
		l := d.programmes[q.programme].look
		c = c.beside(s.write(l.letter, style{size, true, l.tone}, c) + gap(size))
	}
	title := q.title
	if s.fonts.measure(title, true, size) > c.w && s.fonts.measure(q.id, true, size) <= c.w {
		title = q.id
	}
	s.write(title, style{size, true, black}, c)
}

// sessionRow has a box to tick, the start, what is worked at, which visit of how
// many, and the minutes.
func (d *diary) sessionRow(s *sheet, v *model.Session, c box, size float64) {
	side := size * 0.95
	s.add(frame{box{c.x, c.y + (c.h-side)/2, side, side}, 0.6, black, false})
	plain := style{size, false, black}
	at := c.beside(size * tickWidth).below((c.h - size*(ascent+descent)) / 2)
	at.w -= max(s.writeRight(itoa(int(v.Minutes)), plain, at), s.fonts.measure("88", false, size)) + size*rowGap
	if v.Visit != nil && v.Visits != nil {
		at.w -= s.writeRight(visitOf(v), plain, at) + size*rowGap
	}
	words := d.sessionWords(v)
	if v.Start != nil {
		start := d.locale.Clock(*v.Start)
		w := max(s.fonts.measure("88:88", false, size), s.fonts.measure(start, false, size)) + size*0.5
		if w+s.fonts.measure(words[len(words)-1], false, size) <= at.w {
			s.write(start, style{size, false, quiet}, at)
			at = at.beside(w)
		}
	}
	for _, text := range words {
		if s.fonts.measure(text, false, size) <= at.w {
			s.write(text, plain, at)
			return
		}
	}
	s.write(words[len(words)-1], plain, at)
}

// sessionWords says what a session is, in ever fewer words.
func (d *diary) sessionWords(v *model.Session) []string {
	if v.Stage != model.PassageStage || v.Passage == nil {
		return []string{string(v.Stage)}
	}
	bars := strings.TrimPrefix(*v.Passage, v.Part+"/")
	ps := d.passages[*v.Passage]
	if ps != nil && ps.Bars != "" {
		bars = ps.Bars
	}
	if n, unnamed := strings.CutPrefix(bars, "unnamed-"); unnamed {
		return []string{"passage " + n + " of the estimate", "passage " + n, "no. " + n}
	}
	bars = clean(bars)
	if ps != nil && ps.Exposed {
		return []string{bars + ", exposed", bars}
	}
	return []string{bars}
}

// sums draws the day's bar and says its minutes.
func (d *diary) sums(s *sheet, x *day, at box, size float64) {
	d.bar(s, x, at.top(size), measures{text: size, bar: size, figures: true})
	if x.listening > 0 {
		s.write("and "+x.listening.String()+" of listening", style{size, false, black}, at.below(size*1.5))
	}
}

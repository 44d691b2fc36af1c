package wall

import (
	"cmp"
	"strings"

	"primaprova/model"
)

// row is a line of a day sheet: a part's heading, a session with its box, or a
// rest.
type row struct {
	part   *part
	line   *model.SheetLine
	do     []string // what to do in the session, in small letters below it
	height float64  // in units, the height of a session's row
}

// The unit on A4, where a row is free, where rests and what to do may stand
// beside the sessions, and where it has to be small; the part of it that its
// words take; the least size of those.
const (
	tallRow, easyRow, leastRow = 13.0, 11.4, 8.2
	rowText                    = 0.6
	leastText                  = 4.9
	clockText                  = 5.6 // below it the starts are left away
	doText                     = 5.8
)

// Of a session's row, in sizes of its text: the box to tick with the gap after
// it, the gap between columns.
const tickWidth, rowGap = 1.45, 0.5

// rows lays a day sheet out for an area: with rests and what to do where there
// is room for it, then with rests, then the sessions alone. It gives the unit.
func (d *diary) rows(f *fonts, lines []model.SheetLine, at box, k float64) (out []row, unit float64) {
	for _, mode := range []struct{ rests, do bool }{{true, true}, {true, false}, {false, false}} {
		out, unit = nil, 0
		above := ""
		for i := range lines {
			l := &lines[i]
			if l.Session == nil {
				if mode.rests {
					out = append(out, row{line: l, height: 0.75})
				}
				continue
			}
			if name := l.Session.Part; name != "" && name != above {
				q := d.parts[name]
				if q == nil { // a part that the season no longer has
					q = &part{clean(name), clean(name), -1}
				}
				out = append(out, row{part: q, height: 1.1})
			}
			above = l.Session.Part
			r := row{line: l, height: 1}
			if mode.do {
				r.do = doLines(f, l, at.w-tickWidth*tallRow*rowText*k, doText*k)
				r.height += float64(len(r.do)) * doText * leading / tallRow
			}
			out = append(out, r)
		}
		sum := 0.0
		for _, r := range out {
			sum += r.height
		}
		unit = min(tallRow*k, at.h/max(1, sum))
		if mode.do && unit >= tallRow*k-0.01 || !mode.do && unit >= easyRow*k {
			break
		}
	}
	return out, max(unit, leastRow*k)
}

// doLines says what to do in a session, in at most two lines; nothing where they
// don't hold it.
func doLines(f *fonts, l *model.SheetLine, width, size float64) []string {
	text := l.Do
	if l.Tempo != nil {
		text = "at " + l.Tempo.String() + ": " + text
	}
	var out []string
	left := strings.Fields(text)
	for len(left) > 0 {
		n := len(left)
		for n > 1 && f.measure(strings.Join(left[:n], " "), false, size) > width {
			n--
		}
		if len(out) == 2 || f.measure(strings.Join(left[:n], " "), false, size) > width {
			return nil
		}
		out, left = append(out, strings.Join(left[:n], " ")), left[n:]
	}
	return out
}

// widest gives the width that the widest session needs in its fewest words, with
// or without its start, in sizes of the text.
func (d *diary) widest(f *fonts, rows []row, clocks bool) float64 {
	out := 1.0
	for _, r := range rows {
		if r.line == nil || r.line.Session == nil {
			continue
		}
		v := r.line.Session
		words := sessionWords(r.line)
		w := tickWidth + f.measure(words[len(words)-1], false, 1) + rowGap
		w += max(f.measure("88", false, 1), f.measure(itoa(int(v.Minutes)), false, 1))
		if v.Visit != nil && v.Visits != nil {
			w += f.measure(visitOf(v), false, 1) + rowGap
		}
		if clocks && v.Start != nil {
			w += d.clockWidth(f, v, 1)
		}
		out = max(out, w*1.001)
	}
	return out
}

func visitOf(v *model.Session) string { return itoa(*v.Visit) + "/" + itoa(*v.Visits) }

// clockWidth is that of a session's start with the gap after it.
func (d *diary) clockWidth(f *fonts, v *model.Session, size float64) float64 {
	return max(f.measure("88:88", false, size), f.measure(d.locale.Clock(*v.Start), false, size)) + size*rowGap
}

func (d *diary) row(s *sheet, r row, c box, unit, size, k float64, clocks bool) {
	switch {
	case r.part != nil:
		d.partRow(s, r.part, c, size)
	case r.line.Session == nil:
		s.write("rest "+r.line.Rest.String(), style{size * 0.88, false, quiet}, c.beside(size*tickWidth).below((c.h-size*0.88*(ascent+descent))/2))
	default:
		d.sessionRow(s, r.line, c.top(unit), size, clocks)
		for i, text := range r.do {
			y := unit*0.86 + float64(i)*doText*leading*k
			s.write(text, style{doText * k, false, quiet}, box{c.x + tickWidth*tallRow*rowText*k, c.y + y, c.w - tickWidth*tallRow*rowText*k + 0.1, doText * k * (ascent + descent)})
		}
	}
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
func (d *diary) sessionRow(s *sheet, l *model.SheetLine, c box, size float64, clocks bool) {
	v := l.Session
	side := size * 0.95
	s.add(frame{box{c.x, c.y + (c.h-side)/2, side, side}, 0.6, black, false})
	plain := style{size, false, black}
	at := c.beside(size * tickWidth).below((c.h - size*(ascent+descent)) / 2)
	at.w -= max(s.writeRight(itoa(int(v.Minutes)), plain, at), s.fonts.measure("88", false, size)) + size*rowGap
	if v.Visit != nil && v.Visits != nil {
		at.w -= s.writeRight(visitOf(v), plain, at) + size*rowGap
	}
	words := sessionWords(l)
	if clocks && v.Start != nil {
		s.write(d.locale.Clock(*v.Start), style{size, false, quiet}, at)
		at = at.beside(d.clockWidth(s.fonts, v, size))
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
func sessionWords(l *model.SheetLine) []string {
	if l.Session.Passage == nil {
		return []string{string(l.Session.Stage)}
	}
	where := cmp.Or(clean(strings.TrimPrefix(l.Bars, "bars ")), "passage")
	if brief, unnamed := strings.CutSuffix(where, " of the estimate"); unnamed {
		return []string{where, brief, "no. " + strings.TrimPrefix(brief, "passage ")}
	}
	out := []string{where}
	if l.Exposed {
		out = append([]string{where + ", exposed"}, out...)
	}
	if l.Tempo != nil {
		out = append([]string{out[0] + ", at " + l.Tempo.String(), where + ", at " + l.Tempo.String()}, out...)
	}
	return out
}

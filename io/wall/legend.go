package wall

import (
	"slices"
	"strings"

	"primaprova/model"
)

// entry is a programme in the legend.
func (d *diary) entry(s *sheet, q *programme, at box, size float64) {
	chip := box{at.x, at.y + size*0.1, size * 1.7, size * 1.25}
	s.add(area{box: chip, ink: q.look.tone})
	s.writeMid(q.look.letter, style{size, true, paper}, chip.below(size*0.14))
	s.add(texture{box{at.x + 2*size, at.y + size*0.1, size * 3.2, size * 1.25}, q.look})
	text := at.beside(entryIndent * size)
	s.write(q.title, style{size, true, black}, text.below(size*0.05))
	s.write(d.dates(q), style{size, false, black}, text.below(size*1.3))
}

// dates says when a programme is due.
func (d *diary) dates(q *programme) string {
	var out []string
	if q.ready != 0 {
		out = append(out, "ready by "+d.locale.Brief(q.ready))
	}
	if q.first != 0 {
		out = append(out, q.FirstIs()+" "+d.locale.Brief(q.first))
	}
	var concerts []string
	for _, v := range q.Services {
		if on := d.locale.Brief(v.Date); v.Kind == model.Concert && v.Date != q.first && !slices.Contains(concerts, on) {
			concerts = append(concerts, on)
		}
	}
	switch n := len(concerts); {
	case n == 1:
		out = append(out, "concert "+concerts[0])
	case n > 1:
		out = append(out, "concerts "+concerts[0]+" to "+concerts[n-1])
	}
	out = append(out, q.later...)
	if q.leftOut > 0 {
		out = append(out, itoa(q.leftOut)+" left out")
	}
	return strings.Join(out, ", ")
}

// weekSay explains figures of the months' sheets.
const weekSay = "left: ISO week, hours of playing"

// sign is one entry of the key: its width, and how it is drawn.
type sign struct {
	width float64
	draw  func(*sheet, box)
}

// signs gives the key of marks, bar and figures.
func (d *diary) signs(f *fonts, size float64, o footing) []sign {
	blank := &sheet{fonts: f}
	var out []sign
	for _, c := range []chunk{{firstMark, "", black, []string{"first rehearsal"}, false}, {concertMark, "", black, []string{"concert"}, false},
		{readyMark, "", black, []string{"ready by this day"}, false}} {
		out = append(out, sign{blank.chunkWidth(c, 0, size), func(s *sheet, at box) { s.chunk(c, 0, size, at) }})
	}
	plain := style{size, false, black}
	with := func(text string, draw func(box) []item) {
		swatch := size * 2.4
		out = append(out, sign{swatch + size*0.4 + f.measure(text, false, size), func(s *sheet, at box) {
			s.add(draw(box{at.x, at.y + size*0.15, swatch, size * 0.95})...)
			s.write(text, plain, at.beside(swatch+size*0.4).below(size*0.13))
		}})
	}
	switch {
	case o.bare:
	case o.heat:
		for i, to := range d.steps() {
			with("to "+inHours(to), func(b box) []item { return []item{area{box: b, ink: heat[i]}, frame{b, 0.4, rule, false}} })
		}
	default:
		with("playing in services", func(b box) []item { return []item{area{box: b, ink: black}} })
		if d.other {
			with("other playing", func(b box) []item { return []item{area{box: b, ink: quiet}, area{box: b.in(1, 1), ink: paper}} })
		}
		with("planned", func(b box) []item { return []item{texture{b, look{tone: black, pattern: model.Patterns[0]}}} })
		with("warm-up", func(b box) []item { return []item{area{box: b, ink: faint}} })
		with("the day's cap (highest "+d.highest.String()+")", func(b box) []item { return []item{frame{b, 0.5, quiet, false}} })
	}
	if o.ways {
		waySigns(with)
	}
	for _, text := range o.says {
		out = append(out, sign{f.measure(text, false, size), func(s *sheet, at box) { s.write(text, plain, at.below(size*0.13)) }})
	}
	return out
}

// inHours writes 11 h 15, and 45 min.
func inHours(m model.Minutes) string {
	switch {
	case m < 60:
		return m.String()
	case m%60 == 0:
		return itoa(int(m/60)) + " h"
	}
	return itoa(int(m/60)) + " h " + itoa(int(m%60))
}

// keyed sets signs into lines of a width: for each its line and place.
func keyed(signs []sign, width, size float64) (spots []spot, lines int) {
	line, x := 0, 0.0
	for _, g := range signs {
		w := min(g.width, width)
		if x > 0 && x+w > width {
			line, x = line+1, 0
		}
		spots = append(spots, spot{line: line, x: x, w: w})
		x += w + size*1.3
	}
	return spots, line + 1
}

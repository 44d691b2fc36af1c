package wall

import (
	"cmp"
	"strings"

	"primaprova/model"
)

// token is a phrase of a row: it stays on one line where a line holds it.
type token struct {
	text string
	bold bool
	ink  ink
	em   float64 // width in sizes of the text
	kept bool    // on one line with what comes after it
	anew bool    // at the beginning of a line
}

// row is a line of a day sheet, a session with its box or a rest, as it is set
// in columns: what stands before the words, the words, what stands after them.
type row struct {
	line   *model.SheetLine
	words  []token
	number int     // of the session on its day's sheet
	tail   string  // visit and minutes
	end    float64 // width of the tail, with the gap before it
}

// set is a token, or what of it fits a line, in its place: lines are counted from
// 0, places in sizes of the text.
type set struct {
	token
	line int
	x    float64
}

func (f *fonts) token(text string, bold bool, i ink) token {
	return token{text: text, bold: bold, ink: i, em: f.measure(text, bold, 1)}
}

// wordGap is between tokens, in sizes of the text.
const wordGap = 0.33

// wrapped sets tokens into lines of a width in sizes of the text, the first of which
// has a tail at its right end. It gives the last line's number.
func wrapped(f *fonts, words []token, width, tail float64) (out []set, last int) {
	line, x := 0, 0.0
	room := func() float64 {
		if line == 0 {
			return width - tail
		}
		return width
	}
	for i, w := range words {
		for j, t := range f.parts(w, width) {
			wide := t.em
			if t.kept && i+1 < len(words) {
				wide += wordGap + words[i+1].em
			}
			if full := x+wide > room()+0.001; full && (x > 0 || line == 0) || w.anew && j == 0 && x > 0 {
				line, x = line+1, 0
			}
			out = append(out, set{t, line, x})
			x += t.em + wordGap
		}
	}
	return out, line
}

// parts gives a token whole where a line holds it, else its words, and those in
// pieces where a line is narrower than they are.
func (f *fonts) parts(t token, width float64) []token {
	if t.em <= width {
		return []token{t}
	}
	var out []token
	if words := strings.Fields(t.text); len(words) > 1 {
		for _, w := range words {
			out = append(out, f.parts(f.token(w, t.bold, t.ink), width)...)
		}
		return out
	}
	for left := []rune(t.text); len(left) > 0; {
		n := 1
		for n < len(left) && f.measure(string(left[:n+1]), t.bold, 1) <= width {
			n++
		}
		out = append(out, f.token(string(left[:n]), t.bold, t.ink))
		left = left[n:]
	}
	return out
}

// rows gives the rows of a day sheet; what to do is said where it is wanted. Rests,
// starts and tempos are never left away.
func (d *diary) rows(f *fonts, lines []model.SheetLine, do bool) []row {
	var out []row
	sessions := 0
	for i := range lines {
		l := &lines[i]
		r := row{line: l}
		if l.Session == nil {
			r.words = []token{f.token("rest "+l.Rest.String(), false, quiet)}
			out = append(out, r)
			continue
		}
		sessions++
		r.number = cmp.Or(l.Session.Number, sessions) // plans of older versions have none
		r.words = d.sessionWords(f, l)
		if do {
			do := f.token(d.locale.Doing(l), false, quiet)
			do.anew = true
			r.words = append(r.words, do)
		}
		r.tail = itoa(int(l.Session.Minutes))
		if v := l.Session; v.Visit != nil && v.Visits != nil {
			r.tail = visitOf(v) + "  " + r.tail
		}
		r.end = f.measure(r.tail, false, 1) + wordGap
		out = append(out, r)
	}
	return out
}

func visitOf(v *model.Session) string { return itoa(*v.Visit) + "/" + itoa(*v.Visits) }

// sessionWords says what a session is: the part by its short name, the passage or
// the stage, what is not ordinary of it, the tempo.
func (d *diary) sessionWords(f *fonts, l *model.SheetLine) []token {
	v := l.Session
	var out []token
	add := func(text string, bold bool, i ink) {
		if text != "" {
			out = append(out, f.token(text, bold, i))
		}
	}
	if q := d.parts[v.Part]; q != nil {
		tone := d.programmes[q.programme].look
		add(tone.letter, true, tone.tone)
		out[0].kept = true
		add(q.id, true, black)
	} else if v.Part != "" { // a part that the season no longer has
		add(f.title(clean(v.Part), "a part"), true, black)
	}
	if v.Passage == nil {
		add(v.Word(), false, black)
		return out
	}
	add(d.where(f, l), false, black)
	switch l.Hard {
	case 1:
		add("easy", false, quiet)
	case 3:
		add("hard", false, quiet)
	}
	if l.Exposed {
		add("exposed", false, quiet)
	}
	if l.Tempo != nil {
		add("at "+l.Tempo.String(), false, black)
	}
	return out
}

// where names a passage: its bars, or its number where fonts lack letters of them.
func (d *diary) where(f *fonts, l *model.SheetLine) string {
	bars := cmp.Or(clean(strings.TrimPrefix(l.Bars, "bars ")), "passage")
	bars = strings.TrimSuffix(bars, " of the estimate")
	return f.title(bars, d.passages[*l.Session.Passage].name())
}

// lead is what stands before a row's words, in sizes of its text: the box to tick,
// the session's number, its start.
type lead struct{ number, clock, words float64 }

const tickWidth = 1.45 // the box to tick with the gap after it

func (d *diary) lead(f *fonts, rows []row) lead {
	l := lead{}
	for _, r := range rows {
		if v := r.line.Session; v != nil {
			l.number = max(l.number, f.measure(itoa(r.number), false, 1)+wordGap)
			if v.Start != nil {
				l.clock = max(l.clock, f.measure("88:88", false, 1)+wordGap, f.measure(d.locale.Clock(*v.Start), false, 1)+wordGap)
			}
		}
	}
	l.words = tickWidth + l.number + l.clock
	return l
}

// row draws one at a text size; l says how the rows of its column begin.
func (d *diary) row(s *sheet, r row, l lead, c box, size float64) {
	plain := style{size, false, black}
	line := func(k int) box { return c.below(float64(k) * pitch(size)).top(pitch(size)).below(size * 0.13) }
	words := func(k int) box { return line(k).beside(l.words * size) }
	sets, _ := wrapped(s.fonts, r.words, c.w/size-l.words, r.end)
	for _, t := range sets {
		at := words(t.line).beside(t.x * size)
		at.w = max(at.w, t.em*size)
		s.write(t.text, style{size, t.bold, t.ink}, at)
	}
	v := r.line.Session
	if v == nil {
		return
	}
	side := size * 0.95
	d.box(s, v, box{c.x, c.y + (pitch(size)-side)/2, side, side})
	s.write(itoa(r.number), style{size, false, quiet}, line(0).beside(tickWidth*size))
	if v.Start != nil {
		s.write(d.locale.Clock(*v.Start), plain, line(0).beside((tickWidth+l.number)*size))
	}
	s.writeRight(r.tail, plain, words(0))
}

// box draws the box to tick, ticked where the session is recorded as done, crossed
// where as anything else.
func (d *diary) box(s *sheet, v *model.Session, b box) {
	s.add(frame{b, b.w * 0.08, black, false})
	m := b.in(b.w*0.22, b.w*0.22)
	switch said := d.recorded[v.Key()]; {
	case said == "":
	case strings.HasPrefix(said, "done"):
		s.add(line{m.x, m.y + m.h*0.55, m.x + m.w*0.35, m.bottom(), b.w * 0.13, black}, line{m.x + m.w*0.35, m.bottom(), m.right(), m.y, b.w * 0.13, black})
	default:
		s.add(line{m.x, m.y, m.right(), m.bottom(), b.w * 0.1, black}, line{m.x, m.bottom(), m.right(), m.y, b.w * 0.1, black})
	}
}

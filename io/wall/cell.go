package wall

import (
	"slices"
	"strings"

	"primaprova/model"
)

// measure is how large the things in a day's cell are, in points.
type measures struct {
	number, text, bar float64 // sizes of the day's number and of the words, height of the bar
	figures           bool    // the day's minutes beside the bar
}

// cell draws a day: number and badges, what is worked at, the bar. Everything
// stays inside the box, whatever the day holds.
func (d *diary) cell(s *sheet, x *day, c box, m measures) {
	switch {
	case x.room.Off:
		s.add(area{box: c, ink: off})
	case x.room.Rest:
		s.add(area{box: c, ink: rest})
	}
	s.add(frame{c, 0.4, rule, false})
	in := c.in(m.text*0.5, m.text*0.4)
	bar := box{in.x, in.bottom() - m.bar, in.w, m.bar}
	body := box{in.x, in.y, in.w, bar.y - m.text*0.25 - in.y}
	indent := s.write(d.number(x.date), style{m.number, true, black}, body) + m.text*0.7
	head := max(pitch(m.text), m.number*(ascent+descent))
	lines := 1 + max(0, int((body.h-head)/pitch(m.text)+0.01))
	pieces := d.pieceChunks(x)
	forMarks := lines
	if len(pieces) > 0 {
		forMarks = max(1, lines-1)
	}
	used := max(1, s.flow(d.markChunks(x), slot{box: body, size: m.text, indent: indent, head: head, lines: forMarks}))
	below := body.below(head + float64(used-1)*pitch(m.text))
	s.pieces(d, x, pieces, slot{box: below, size: m.text, head: pitch(m.text), lines: lines - used})
	d.bar(s, x, bar, m)
}

// number is a day's number, with its month on the first and where the season
// begins.
func (d *diary) number(date model.Date) string {
	n := itoa(date.Time().Day())
	if n != "1" && date != d.Season.From {
		return n
	}
	month := d.locale.ShortMonth(date.Time().Month())
	if d.locale.Dates == model.MonthDay {
		return month + " " + n
	}
	return n + " " + month
}

// markChunks says a day's services and ready-by dates, and whether it is free.
func (d *diary) markChunks(x *day) []chunk {
	var out []chunk
	for _, m := range x.marks {
		if m.other != "" {
			out = append(out, chunk{variants: d.otherWords(m)})
			continue
		}
		q := &d.programmes[m.programme]
		out = append(out, chunk{m.kind, q.look.letter, q.look.tone, d.markWords(m, q.title), false})
	}
	if x.free != "" {
		return append(out, chunk{variants: x.freeWords()})
	}
	if brief := x.room.Marks.Brief(); brief != nil {
		if x.room.Marks.Has(model.LightDay) {
			brief = append([]string{brief[0] + " on " + d.locale.Brief(d.Season.PainBefore(x.date))}, brief...)
		}
		out = append(out, chunk{variants: brief})
	}
	return out
}

// otherWords says what belongs to no programme.
func (d *diary) otherWords(m mark) []string {
	if m.at < 0 {
		return []string{m.other, clip(m.other, 10)}
	}
	at := d.locale.Clock(m.at)
	return []string{at + " " + m.other, at + " " + clip(m.other, 10), at}
}

// freeWords says why a day is free, and what was noted of it.
func (x *day) freeWords() []string {
	out := []string{x.free, strings.TrimPrefix(strings.TrimPrefix(strings.TrimSuffix(x.free, " day"), "day "), "on ")}
	if x.note != "" {
		out = append([]string{x.free + ": " + x.note}, out...)
	}
	return out
}

func (d *diary) markWords(m mark, title string) []string {
	at := d.locale.Clock(m.at)
	if m.missed {
		what := m.service.String()
		return []string{at + " " + what + ": " + title + ", not played", at + " " + what + ", not played", what + ", not played", "not played"}
	}
	switch m.kind {
	case readyMark:
		return []string{"ready by: " + title, "ready by"}
	case firstMark:
		what := m.service.String()
		return []string{at + " first " + what + ": " + title, at + " first " + what, at + " 1st " + what, at + " 1st", "1st"}
	case concertMark:
		what := m.service.String()
		return []string{at + " " + what + ": " + title, at + " " + what, at + " " + what, at + " " + what, what, at}
	}
	what := m.service.String()
	return []string{at + " " + what + ": " + title, at + " " + what, at + " " + what, at + " " + what, at}
}

// pieces says what is worked at: a line for each part where there are as many,
// else parts side by side, else no more than sums of programmes.
func (s *sheet) pieces(d *diary, x *day, chunks []chunk, l slot) {
	if len(chunks) <= l.lines {
		l.apart = true
	} else if !s.holds(chunks, l) {
		chunks = d.sumChunks(x)
	}
	s.flow(chunks, l)
}

// holds tells whether a slot takes chunks in their fewest words.
func (s *sheet) holds(chunks []chunk, l slot) bool {
	level := 0
	for _, c := range chunks {
		level = max(level, len(c.variants)-1)
	}
	return len(s.place(chunks, level, l, 0)) == len(chunks)
}

// pieceChunks has a chunk for each part, by its short name.
func (d *diary) pieceChunks(x *day) []chunk {
	var out []chunk
	for _, p := range x.pieces {
		q, name := &d.programmes[p.part.programme], p.part.id
		brief := name + ", " + p.minutes.String()
		out = append(out, chunk{letter: q.look.letter, tone: q.look.tone,
			variants: []string{name + ": " + worked(p.stages, p.visits) + ", " + p.minutes.String(), brief, brief, name, clip(name, 10)}})
	}
	return out
}

// sumChunks has a chunk for each programme.
func (d *diary) sumChunks(x *day) []chunk {
	var out []chunk
	for i := range d.programmes {
		n, minutes := 0, model.Minutes(0)
		for _, p := range x.pieces {
			if p.part.programme == i {
				n, minutes = n+1, minutes+p.minutes
			}
		}
		if n > 0 {
			q := &d.programmes[i]
			out = append(out, chunk{letter: q.look.letter, tone: q.look.tone,
				variants: []string{several(n, "work") + ", " + minutes.String(), minutes.String(), itoa(int(minutes)), ""}})
		}
	}
	return out
}

func several(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return itoa(n) + " " + what + "s"
}

// worked says stages and visits.
func worked(stages []string, visits int) string {
	stages = slices.Compact(slices.Sorted(slices.Values(stages)))
	if visits > 0 {
		stages = append(stages, several(visits, "visit"))
	}
	return strings.Join(stages, ", ")
}

// clip shortens a name to some letters.
func clip(s string, n int) string {
	if r := []rune(s); len(r) > n {
		return string(r[:n-1]) + "…"
	}
	return s
}

// bar draws the load against the cap: the whole width is the season's greatest
// cap, the frame the day's own.
func (d *diary) bar(s *sheet, x *day, at box, m measures) {
	if d.greatest == 0 || x.room.Rest && x.load == 0 {
		return
	}
	if m.figures {
		text := itoa(int(x.load)) + "/" + itoa(int(x.most))
		size := m.text
		w := s.fonts.measure("888/888", true, size)
		s.writeRight(text, style{size, x.load > x.most, black}, box{at.right() - w, at.y + at.h/2 - size*(ascent+descent)/2, w, size})
		at.w -= w + m.text*0.4
	}
	unit := at.w / float64(d.greatest)
	cap := at
	cap.w = unit * float64(x.most)
	left := at.x
	for _, sh := range x.shares {
		part := box{left, at.y, unit * float64(sh.minutes), at.h}
		left += part.w
		d.share(s, sh, part)
	}
	if cap.w > 0 {
		s.add(frame{cap, 0.5, quiet, false})
	}
}

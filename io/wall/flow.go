package wall

// chunk is a few words that stay together, behind a programme's letter. Its
// variants say the same in ever fewer words.
type chunk struct {
	kind     markKind
	letter   string
	tone     ink
	variants []string
	boxed    bool // on white of its own, where the ground is not
}

func (c chunk) bold() bool { return c.kind == firstMark || c.kind == concertMark }

func (c chunk) at(level int) string { return c.variants[min(level, len(c.variants)-1)] }

// slot is where chunks flow: lines of one pitch, the first one of them as high
// as head and beginning at an indent.
type slot struct {
	box
	size, indent, head float64
	lines              int
	apart              bool // each chunk on a line of its own
}

// line gives the place of a line, counted from 0.
func (l slot) line(n int) box {
	if n == 0 {
		return box{l.x, l.y + (l.head-pitch(l.size))/2, l.w, pitch(l.size)}
	}
	return box{l.x, l.y + l.head + float64(n-1)*pitch(l.size), l.w, pitch(l.size)}
}

// spot is where a chunk goes, a line and a place on it, and in which words.
type spot struct {
	line, level int
	x, w        float64
}

// flow sets chunks one after another into a slot, in the fullest words with
// which all of them fit. It gives the number of lines used. Where even the
// fewest words do not fit, what is left over is counted (+2).
func (s *sheet) flow(chunks []chunk, l slot) int {
	if len(chunks) == 0 || l.lines < 1 || l.w <= 0 {
		return 0
	}
	spots := s.spots(chunks, l)
	used, end := 0, l.indent
	for i, p := range spots {
		at := l.line(p.line)
		s.chunk(chunks[i], p.level, l.size, box{at.x + p.x, at.y, p.w, at.h})
		used, end = p.line+1, p.x+p.w+l.size*0.4
	}
	if left := len(chunks) - len(spots); left > 0 {
		used = max(used, 1)
		s.write("+"+itoa(left), style{l.size, true, black}, l.line(used-1).beside(end).below(l.size*0.19))
	}
	return used
}

// arranged gives the number of lines that chunks take in a slot.
func (s *sheet) arranged(chunks []chunk, l slot) int {
	if len(chunks) == 0 || l.lines < 1 {
		return 0
	}
	used := 0
	for _, p := range s.spots(chunks, l) {
		used = p.line + 1
	}
	return used
}

// spots finds the fullest words with which all chunks fit, and their places; with
// the fewest, places for as many as there are.
func (s *sheet) spots(chunks []chunk, l slot) []spot {
	levels := 0
	for _, c := range chunks {
		levels = max(levels, len(c.variants))
	}
	level := 0
	spots := s.place(chunks, level, l, 0)
	for len(spots) < len(chunks) && level+1 < levels {
		level++
		spots = s.place(chunks, level, l, 0)
	}
	if len(spots) < len(chunks) {
		spots = s.place(chunks, level, l, s.fonts.measure("+99", true, l.size)+l.size)
	}
	for i, p := range spots { // a first rehearsal takes what is left of its line
		if last := i+1 == len(spots) || spots[i+1].line > p.line; last && len(spots) == len(chunks) && chunks[i].kind == firstMark {
			spots[i].w = l.w - p.x
		}
	}
	return spots
}

// place finds spots for chunks, in order, until one fits no more: each in the
// fullest words from a level on that a line holds. A width of more is kept free
// at the end of the last line.
func (s *sheet) place(chunks []chunk, level int, l slot, more float64) []spot {
	var out []spot
	line, x := 0, l.indent
	room := func() float64 {
		if line == l.lines-1 {
			return l.w - more
		}
		return l.w
	}
	for i, c := range chunks {
		level, w := level, 0.0
		for ; ; level++ {
			if w = s.chunkWidth(c, level, l.size); w <= l.w {
				break
			}
			if level+1 >= len(c.variants) { // no line holds it: it is cut
				w = l.w - more
				break
			}
		}
		if (x+w > room() || l.apart && i > 0) && x > 0 && line+1 < l.lines {
			line, x = line+1, 0
		}
		if x+w > room() || l.apart && x > 0 && i > 0 {
			return out
		}
		out = append(out, spot{line, level, x, w})
		x += w + l.size*0.6
	}
	return out
}

func pitch(size float64) float64 { return size * 1.3 }

// Of a badge: room before and after its words, and after a letter.
func pad(size float64) float64 { return size * 0.35 }
func gap(size float64) float64 { return size * 0.28 }

func (s *sheet) chunkWidth(c chunk, level int, size float64) float64 {
	text := c.at(level)
	w := s.fonts.measure(text, false, size)
	if c.bold() {
		w = s.fonts.measure(text, true, size)
	}
	if c.letter != "" {
		w += s.fonts.measure(c.letter, true, size)
		if text != "" {
			w += gap(size)
		}
	}
	switch c.kind {
	case plainMark, rehearsalMark:
		if c.boxed {
			w += 2 * pad(size)
		}
	case readyMark:
		w += size * 1.05
		if c.boxed {
			w += 2 * pad(size)
		}
	default:
		w += 2*pad(size) + size*0.25
	}
	return w + 0.01
}

// chunk draws one in its box: a first rehearsal as a black bar, a concert within a
// heavy round frame, other rehearsals in plain words.
func (s *sheet) chunk(c chunk, level int, size float64, at box) {
	tone, words := c.tone, black
	inner := at
	body := box{at.x, at.y + size*0.02, at.w, at.h - size*0.04}
	bold := false
	switch c.kind {
	case firstMark:
		s.add(area{box: body, ink: black})
		inner, bold, words, tone = at.beside(pad(size)+size*0.12), true, paper, paper
	case concertMark:
		s.add(area{body, paper, true}, frame{body, size * 0.11, tone, true})
		inner, bold = at.beside(pad(size)+size*0.12), true
	default:
		if c.boxed {
			s.add(area{box: body, ink: paper})
			inner = at.beside(pad(size))
		}
		if c.kind == readyMark {
			s.add(gem{box{inner.x, at.y + size*0.27, size * 0.8, size * 0.8}, c.tone, false})
			inner = inner.beside(size * 1.05)
		}
	}
	inner = inner.below(size * 0.19)
	if c.letter != "" {
		w := s.write(c.letter, style{size, true, tone}, inner)
		inner = inner.beside(w + gap(size))
	}
	if text := c.at(level); text != "" {
		s.write(text, style{size, bold, words}, inner)
	}
}

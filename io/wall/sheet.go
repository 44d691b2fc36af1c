package wall

// box is an area in points from the top left corner of a page.
type box struct{ x, y, w, h float64 }

func (b box) right() float64  { return b.x + b.w }
func (b box) bottom() float64 { return b.y + b.h }

// in gives the box without a margin on all sides.
func (b box) in(dx, dy float64) box {
	return box{b.x + dx, b.y + dy, max(0, b.w-2*dx), max(0, b.h-2*dy)}
}

// top and below split a box at a height.
func (b box) top(h float64) box   { return box{b.x, b.y, b.w, min(h, b.h)} }
func (b box) below(h float64) box { return box{b.x, b.y + h, b.w, max(0, b.h-h)} }

// left and beside split it at a width.
func (b box) left(w float64) box   { return box{b.x, b.y, min(w, b.w), b.h} }
func (b box) beside(w float64) box { return box{b.x + w, b.y, max(0, b.w-w), b.h} }

// item is something on a page: word, area, line or texture. What comes later in
// a sheet lies above what came before.
type item interface{ isItem() }

// word is a text on one line.
type word struct {
	text string
	bold bool
	size float64
	ink  ink
	at   box // what the text covers
	cell box // what it has to stay in
}

// area is a filled box, with round ends where round is set.
type area struct {
	box
	ink   ink
	round bool
}

// frame is a box's outline, drawn inside its edge.
type frame struct {
	box
	width float64
	ink   ink
	round bool
}

// line is a straight line.
type line struct {
	x1, y1, x2, y2 float64
	width          float64
	ink            ink
}

// gem is a diamond: open the mark of a ready-by date, full that of a first
// rehearsal.
type gem struct {
	box
	ink  ink
	full bool
}

// texture fills a box with a programme's pattern.
type texture struct {
	box
	look look
}

func (word) isItem()    {}
func (area) isItem()    {}
func (frame) isItem()   {}
func (line) isItem()    {}
func (gem) isItem()     {}
func (texture) isItem() {}

// sheet is a page with what is on it.
type sheet struct {
	fonts *fonts
	w, h  float64
	title string // in the PDF's list of contents
	items []item
	stamp word // where which sheet of how many is said
}

func (s *sheet) add(i ...item) { s.items = append(s.items, i...) }

// page gives the part of the sheet that a printer reaches.
func (s *sheet) page() box { return box{0, 0, s.w, s.h}.in(margin, margin) }

const margin = 26 // points, 9 mm

// style is how a text is written.
type style struct {
	size float64
	bold bool
	ink  ink
}

// write puts a text at the left end of a cell's first line, cut to the cell's
// width; it gives the width used.
func (s *sheet) write(text string, t style, cell box) float64 {
	return s.put(text, t, cell, 0)
}

// writeRight puts it at the right end.
func (s *sheet) writeRight(text string, t style, cell box) { s.put(text, t, cell, 1) }

// writeMid puts it in the middle.
func (s *sheet) writeMid(text string, t style, cell box) float64 { return s.put(text, t, cell, 0.5) }

func (s *sheet) put(text string, t style, cell box, place float64) float64 {
	text = s.fonts.cut(text, t.bold, t.size, cell.w)
	if text == "" || cell.h < t.size*(ascent+descent)-0.01 {
		return 0
	}
	w := s.fonts.measure(text, t.bold, t.size)
	at := box{cell.x + place*(cell.w-w), cell.y, w, t.size * (ascent + descent)}
	s.add(word{text, t.bold, t.size, t.ink, at, cell})
	return w
}

package wall

import (
	"io"
	"math"

	"primaprova/io/pdf"
	"primaprova/model"
)

// paint writes sheets as a PDF.
func paint(w io.Writer, f *fonts, s *model.Season, p *model.Plan, sheets []*sheet) error {
	for _, sh := range sheets {
		f.pdf.Page(sh.w, sh.h, sh.title)
		b := brush{Document: f.pdf, fonts: f, coarse: max(1, math.Sqrt(sh.w*sh.h/(1190.6*841.9)))}
		for _, i := range sh.items {
			b.item(i)
		}
	}
	return f.pdf.Write(w, clean(s.Title), p.From.Time())
}

// brush draws items.
type brush struct {
	*pdf.Document
	fonts  *fonts
	coarse float64 // how much coarser patterns are than on A3 and smaller: large sheets are read from afar
}

func (b *brush) item(i item) {
	switch i := i.(type) {
	case word:
		b.word(i)
	case area:
		b.Ground(i.ink)
		b.rect(i.box, i.round, pdf.Fill)
	case frame:
		b.Pen(i.ink, i.width)
		b.rect(i.in(i.width/2, i.width/2), i.round, pdf.Outline)
	case line:
		b.Pen(i.ink, i.width)
		b.Line(i.x1, i.y1, i.x2, i.y2)
	case gem:
		b.gem(i)
	case texture:
		b.texture(i)
	}
}

func (b *brush) gem(g gem) {
	const edge = 0.45
	ground := paper
	if g.full {
		ground = g.ink
	}
	b.Ground(ground)
	b.Pen(g.ink, 2*edge)
	m := g.in(edge*1.4, edge*1.4) // within the box with its outline
	b.Path(pdf.Both, true, []pdf.Point{{X: m.x + m.w/2, Y: m.y}, {X: m.right(), Y: m.y + m.h/2}, {X: m.x + m.w/2, Y: m.bottom()}, {X: m.x, Y: m.y + m.h/2}})
}

func (b *brush) rect(r box, round bool, how string) {
	radius := 0.0
	if round {
		radius = min(r.h, r.w) / 2
	}
	b.Rect(r.x, r.y, r.w, r.h, radius, how)
}

func (b *brush) word(w word) {
	x, base := w.at.x, w.at.y+w.size*ascent
	for _, r := range b.fonts.split(w.text, w.bold) {
		b.Text(r.face.Face, w.size, x, base, w.ink, r.text)
		x += r.width * w.size / 1000
	}
}

// texture draws a pattern, cut at the box's edges by calculation: clipping
// would cost three times the bytes.
func (b *brush) texture(t texture) {
	ground, mark := paper, t.look.tone
	if t.look.pattern.Reversed {
		ground, mark = mark, ground
	}
	b.Ground(ground)
	b.Rect(t.x, t.y, t.w, t.h, 0, pdf.Fill)
	step := 2.6 * b.coarse
	width := 0.75 * b.coarse
	if t.look.pattern.Reversed {
		width *= 0.75 // so that it is darker than the same one on paper
	}
	b.Pen(mark, width)
	switch t.look.pattern.Hatch {
	case model.Rising:
		b.slanted(t.in(0.3, 0.3), step*1.3, -1)
	case model.Falling:
		b.slanted(t.in(0.3, 0.3), step*1.3, 1)
	case model.Crossed:
		b.slanted(t.in(0.3, 0.3), step*1.5, -1)
		b.slanted(t.in(0.3, 0.3), step*1.5, 1)
	case model.Across:
		b.across(t.box, step*0.7)
	case model.Upright:
		b.upright(t.box, step)
	case model.Netted:
		b.across(t.box, step)
		b.upright(t.box, step)
	case model.Dots:
		b.Ground(mark)
		r := 0.55 * b.coarse
		for row, y := 0, t.y+1; y <= t.bottom()-r; row, y = row+1, y+step*0.7 {
			for x := t.x + 1 + float64(row%2)*step/2; x <= t.right()-r; x += step {
				b.Rect(x-r, y-r, 2*r, 2*r, 0, pdf.Fill)
			}
		}
	}
	b.Pen(t.look.tone, 0.4)
	b.Rect(t.x+0.2, t.y+0.2, max(0, t.w-0.4), max(0, t.h-0.4), 0, pdf.Outline)
}

func (b *brush) across(r box, step float64) {
	for y := r.y + step*0.7; y < r.bottom()-0.3; y += step {
		b.Line(r.x, y, r.right(), y)
	}
}

func (b *brush) upright(r box, step float64) {
	for x := r.x + step*0.6; x < r.right()-0.3; x += step {
		b.Line(x, r.y, x, r.bottom())
	}
}

// slanted draws lines at 45 degrees. Their phase is that of the page, so that
// neighbouring areas of one pattern go on in each other.
func (b *brush) slanted(r box, step float64, way float64) {
	// Lines are y = way·x + c; c runs over multiples of step that cross the box.
	low := min(r.y-way*r.x, r.bottom()-way*r.x, r.y-way*r.right(), r.bottom()-way*r.right())
	high := max(r.y-way*r.x, r.bottom()-way*r.x, r.y-way*r.right(), r.bottom()-way*r.right())
	for c := math.Ceil(low/step) * step; c < high; c += step {
		x1, x2 := r.x, r.right()
		atTop, atBottom := (r.y-c)/way, (r.bottom()-c)/way
		x1, x2 = max(x1, min(atTop, atBottom)), min(x2, max(atTop, atBottom))
		if x2-x1 > 0.05 {
			b.Line(x1, way*x1+c, x2, way*x2+c)
		}
	}
}

package wall

import (
	"io"
	"math"

	"codeberg.org/go-pdf/fpdf"

	"primaprova/model"
)

// paint writes sheets as a PDF.
func paint(w io.Writer, f *fonts, s *model.Season, p *model.Plan, sheets []*sheet) error {
	pdf := f.pdf
	pdf.SetCatalogSort(true)
	pdf.SetCreationDate(p.From.Time())
	pdf.SetModificationDate(p.From.Time())
	pdf.SetTitle(clean(s.Title), true)
	pdf.SetCreator("primaprova", true)
	pdf.SetLang("en-GB")
	pdf.SetMargins(0, 0, 0)
	pdf.SetAutoPageBreak(false, 0)
	for _, sh := range sheets {
		// The library turns sizes by its own rule of orientation: P takes them as
		// they are.
		pdf.AddPageFormat("P", fpdf.SizeType{Wd: sh.w, Ht: sh.h})
		pdf.SetFont("text", "", 10)
		pdf.Bookmark(sh.title, 0, 0)
		b := brush{pdf: pdf, fonts: f, coarse: max(1, math.Sqrt(sh.w*sh.h/(1190.6*841.9)))}
		for _, i := range sh.items {
			b.item(i)
		}
	}
	return pdf.Output(w)
}

// brush draws items. The state of the page is set only where it changes, which
// keeps files small.
type brush struct {
	pdf          *fpdf.Fpdf
	fonts        *fonts
	pen, fill    ink
	width        float64
	penned, full bool
	coarse       float64 // how much coarser patterns are than on A3 and smaller: large sheets are read from afar
}

func (b *brush) draw(i ink, width float64) {
	if !b.penned || b.pen != i {
		b.pdf.SetDrawColor(int(i.r), int(i.g), int(i.b))
	}
	if !b.penned || b.width != width {
		b.pdf.SetLineWidth(width)
	}
	b.pen, b.width, b.penned = i, width, true
}

func (b *brush) flood(i ink) {
	if !b.full || b.fill != i {
		b.pdf.SetFillColor(int(i.r), int(i.g), int(i.b))
	}
	b.fill, b.full = i, true
}

func (b *brush) item(i item) {
	switch i := i.(type) {
	case word:
		b.word(i)
	case area:
		b.flood(i.ink)
		b.rect(i.box, i.round, "F")
	case frame:
		b.draw(i.ink, i.width)
		b.rect(i.in(i.width/2, i.width/2), i.round, "D")
	case line:
		b.draw(i.ink, i.width)
		b.pdf.Line(i.x1, i.y1, i.x2, i.y2)
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
	b.flood(ground)
	b.draw(g.ink, 2*edge)
	m := g.in(edge*1.4, edge*1.4) // within the box with its outline
	b.pdf.Polygon([]fpdf.PointType{{X: m.x + m.w/2, Y: m.y}, {X: m.right(), Y: m.y + m.h/2}, {X: m.x + m.w/2, Y: m.bottom()}, {X: m.x, Y: m.y + m.h/2}}, "FD")
}

func (b *brush) rect(r box, round bool, how string) {
	if round {
		b.pdf.RoundedRect(r.x, r.y, r.w, r.h, min(r.h, r.w)/2, "1234", how)
		return
	}
	b.pdf.Rect(r.x, r.y, r.w, r.h, how)
}

func (b *brush) word(w word) {
	b.pdf.SetTextColor(int(w.ink.r), int(w.ink.g), int(w.ink.b))
	x, base := w.at.x, w.at.y+w.size*ascent
	for _, r := range b.fonts.split(w.text, w.bold) {
		b.pdf.SetFont(r.face.family, r.face.style, w.size)
		b.pdf.Text(x, base, r.text)
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
	b.flood(ground)
	b.pdf.Rect(t.x, t.y, t.w, t.h, "F")
	step := 2.6 * b.coarse
	width := 0.75 * b.coarse
	if t.look.pattern.Reversed {
		width *= 0.75 // so that it is darker than the same one on paper
	}
	b.draw(mark, width)
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
		b.flood(mark)
		r := 0.55 * b.coarse
		for row, y := 0, t.y+1; y <= t.bottom()-r; row, y = row+1, y+step*0.7 {
			for x := t.x + 1 + float64(row%2)*step/2; x <= t.right()-r; x += step {
				b.pdf.Rect(x-r, y-r, 2*r, 2*r, "F")
			}
		}
	}
	b.draw(t.look.tone, 0.4)
	b.pdf.Rect(t.x+0.2, t.y+0.2, max(0, t.w-0.4), max(0, t.h-0.4), "D")
}

func (b *brush) across(r box, step float64) {
	for y := r.y + step*0.7; y < r.bottom()-0.3; y += step {
		b.pdf.Line(r.x, y, r.right(), y)
	}
}

func (b *brush) upright(r box, step float64) {
	for x := r.x + step*0.6; x < r.right()-0.3; x += step {
		b.pdf.Line(x, r.y, x, r.bottom())
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
			b.pdf.Line(x1, way*x1+c, x2, way*x2+c)
		}
	}
}

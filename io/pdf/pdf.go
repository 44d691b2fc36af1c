// Package pdf writes pages of lines, areas and texts as a PDF, in points from a page's
// upper left corner. It alone knows the PDF library, and what of fonts that can take;
// what is drawn, and where, is for others to say. Nothing in a document depends on a
// clock, so the same drawing gives the same bytes.
package pdf

import (
	"fmt"
	"io"
	"slices"
	"time"

	"codeberg.org/go-pdf/fpdf"
)

// Ink is a colour, sRGB: red, green, blue.
type Ink [3]uint8

// Face is a font that a document embeds as far as it is used.
type Face struct{ family, style string }

// Document is a PDF in the making. The state of a page is set only where it changes,
// which keeps files small.
type Document struct {
	lib    *fpdf.Fpdf
	pen    *pen // nil: not known
	ground *Ink
}

// pen is how lines are drawn.
type pen struct {
	ink   Ink
	width float64
	dash  []float64
}

// New begins a document.
func New() *Document {
	return &Document{lib: fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt"})}
}

// Add takes in a font, bold or not, of a name of its own in the document. It must be
// TrueType; what is wrong with another is the error.
func (d *Document) Add(family string, bold bool, ttf []byte) (f Face, err error) {
	if err := embeddable(ttf); err != nil {
		return f, fmt.Errorf("font: %w", err)
	}
	defer Broken(&err)
	if f.family = family; bold {
		f.style = "B"
	}
	d.lib.AddUTF8FontFromBytes(f.family, f.style, ttf)
	d.lib.SetFont(f.family, f.style, 1000)
	if err := d.lib.Error(); err != nil {
		return f, fmt.Errorf("font: cannot be embedded (%w)", err)
	}
	return f, nil
}

// Broken turns a panic of the library, which stumbles over broken fonts, into an error.
func Broken(err *error) {
	if r := recover(); r != nil {
		*err = fmt.Errorf("font: is broken (%v)", r)
	}
}

// Width gives a letter's width in thousandths of the size. Letters beyond the first
// 65,536 have no place in the library's encoding.
func (d *Document) Width(f Face, r rune) float64 {
	d.lib.SetFont(f.family, f.style, 1000)
	return float64(d.lib.GetStringSymbolWidth(string(r)))
}

// Page begins a page of a size; a title that is not empty stands in the list of contents.
func (d *Document) Page(width, height float64, title string) {
	// The library turns sizes by its own rule of orientation: P takes them as they are.
	d.lib.SetMargins(0, 0, 0)
	d.lib.SetAutoPageBreak(false, 0)
	d.lib.AddPageFormat("P", fpdf.SizeType{Wd: width, Ht: height})
	d.pen, d.ground = nil, nil
	if title != "" {
		d.lib.Bookmark(title, 0, 0)
	}
}

// Pen says how lines are drawn from here on: unbroken without dashes.
func (d *Document) Pen(i Ink, width float64, dash ...float64) {
	if d.pen == nil || d.pen.ink != i {
		d.lib.SetDrawColor(int(i[0]), int(i[1]), int(i[2]))
	}
	if d.pen == nil || d.pen.width != width {
		d.lib.SetLineWidth(width)
	}
	if d.pen == nil && len(dash) > 0 || d.pen != nil && !slices.Equal(d.pen.dash, dash) {
		d.lib.SetDashPattern(append([]float64{}, dash...), 0)
	}
	d.pen = &pen{i, width, dash}
}

// Ground says what areas are filled with from here on.
func (d *Document) Ground(i Ink) {
	if d.ground == nil || *d.ground != i {
		d.lib.SetFillColor(int(i[0]), int(i[1]), int(i[2]))
	}
	d.ground = &i
}

// How an area is drawn.
const (
	Fill    = "F"
	Outline = "D"
	Both    = "FD"
)

// Line draws a straight line.
func (d *Document) Line(x1, y1, x2, y2 float64) { d.lib.Line(x1, y1, x2, y2) }

// Rect draws a rectangle; one that is round has the corners' radius.
func (d *Document) Rect(x, y, w, h, radius float64, how string) {
	if radius > 0 {
		d.lib.RoundedRect(x, y, w, h, radius, "1234", how)
		return
	}
	d.lib.Rect(x, y, w, h, how)
}

// Circle draws a circle.
func (d *Document) Circle(x, y, r float64, how string) { d.lib.Circle(x, y, r, how) }

// Point is a place on a page.
type Point struct{ X, Y float64 }

// Path draws runs of straight lines at once, each closed to an area or left open.
func (d *Document) Path(how string, closed bool, runs ...[]Point) {
	for _, run := range runs {
		for i, p := range run {
			if i == 0 {
				d.lib.MoveTo(p.X, p.Y)
			} else {
				d.lib.LineTo(p.X, p.Y)
			}
		}
		if closed {
			d.lib.ClosePath()
		}
	}
	d.lib.DrawPath(how)
}

// Text writes a line of text that stands on y.
func (d *Document) Text(f Face, size, x, y float64, i Ink, text string) {
	d.lib.SetTextColor(int(i[0]), int(i[1]), int(i[2]))
	d.lib.SetFont(f.family, f.style, size)
	d.lib.Text(x, y, text)
}

// Write writes the document: with a title, and a day in the place of the clock's.
func (d *Document) Write(w io.Writer, title string, day time.Time) error {
	d.lib.SetCatalogSort(true)
	d.lib.SetCreationDate(day)
	d.lib.SetModificationDate(day)
	d.lib.SetTitle(title, true)
	d.lib.SetCreator("primaprova", true)
	d.lib.SetLang("en-GB")
	return d.lib.Output(w)
}

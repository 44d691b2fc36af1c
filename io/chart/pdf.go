package chart

import (
	"image/color"
	"io"

	"codeberg.org/go-pdf/fpdf"
	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"

	"primaprova/model"
)

// printed is a page of paper that the sheet is fitted on. It embeds what it uses
// of the typeface; its text can be found and copied.
type printed struct {
	pdf          *fpdf.Fpdf
	scale        float64
	x, y         float64 // of the sheet's lower left corner, from the page's upper left
	colour       color.NRGBA
	set, hasDash bool
}

const paperEdge = 24 // points that a printer may leave white

// newPrinted takes a sheet's size in points. The page lies or stands, whichever
// shows the sheet larger.
func newPrinted(p model.Paper, width, height vg.Length, title string, day model.Date) *printed {
	short, long := p.Size()
	fit := func(w, h float64) float64 {
		return min((w-2*paperEdge)/width.Points(), (h-2*paperEdge)/height.Points())
	}
	w, h := short, long
	if fit(long, short) > fit(short, long) {
		w, h = long, short
	}
	c := &printed{scale: min(1.5, fit(w, h))}
	c.x, c.y = (w-c.scale*width.Points())/2, paperEdge+c.scale*height.Points()
	c.pdf = fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt", OrientationStr: "P", Size: fpdf.SizeType{Wd: w, Ht: h}})
	c.pdf.SetCatalogSort(true)
	c.pdf.SetCreationDate(day.Time()) // no clock: the same plan gives the same bytes
	c.pdf.SetModificationDate(day.Time())
	c.pdf.SetTitle(title, true)
	c.pdf.SetCreator("primaprova", true)
	c.pdf.SetLang("en-GB")
	c.pdf.SetMargins(0, 0, 0)
	c.pdf.SetAutoPageBreak(false, 0)
	for _, f := range faces {
		c.pdf.AddUTF8FontFromBytes("sans", pdfStyle(f.weight), f.ttf)
	}
	c.pdf.AddPage()
	return c
}

func (c *printed) at(p vg.Point) (x, y float64) {
	return c.x + c.scale*p.X.Points(), c.y - c.scale*p.Y.Points()
}

func (c *printed) SetLineWidth(w vg.Length) { c.pdf.SetLineWidth(c.scale * w.Points()) }

func (c *printed) SetLineDash(pattern []vg.Length, offset vg.Length) {
	if len(pattern) == 0 && !c.hasDash {
		return
	}
	out := []float64{}
	for _, l := range pattern {
		out = append(out, c.scale*l.Points())
	}
	c.hasDash = len(out) > 0
	c.pdf.SetDashPattern(out, c.scale*offset.Points())
}

func (c *printed) SetColor(x color.Color) {
	n := color.NRGBAModel.Convert(x).(color.NRGBA)
	if c.set && n == c.colour {
		return
	}
	c.colour, c.set = n, true
	r, g, b := int(n.R), int(n.G), int(n.B)
	c.pdf.SetDrawColor(r, g, b)
	c.pdf.SetFillColor(r, g, b)
	c.pdf.SetTextColor(r, g, b)
}

func (c *printed) Stroke(p vg.Path) { c.path(p, "D") }
func (c *printed) Fill(p vg.Path)   { c.path(p, "F") }

// path draws a path of straight lines, or a whole circle.
func (c *printed) path(p vg.Path, how string) {
	for _, step := range p {
		if step.Type == vg.ArcComp {
			x, y := c.at(step.Pos)
			c.pdf.Circle(x, y, c.scale*step.Radius.Points(), how)
			return
		}
	}
	for _, step := range p {
		x, y := c.at(step.Pos)
		switch step.Type {
		case vg.MoveComp:
			c.pdf.MoveTo(x, y)
		case vg.LineComp:
			c.pdf.LineTo(x, y)
		case vg.CloseComp:
			c.pdf.ClosePath()
		}
	}
	c.pdf.DrawPath(how)
}

func (c *printed) FillString(f font.Face, at vg.Point, text string) {
	c.pdf.SetFont("sans", pdfStyle(f.Font.Weight), c.scale*f.Font.Size.Points())
	x, y := c.at(at)
	c.pdf.Text(x, y, text)
}

// pdfStyle is the library's word for a weight.
func pdfStyle(w xfont.Weight) string {
	if w == xfont.WeightBold {
		return "B"
	}
	return ""
}

func (c *printed) WriteTo(w io.Writer) (int64, error) { return 0, c.pdf.Output(w) }

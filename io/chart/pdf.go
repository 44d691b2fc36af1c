package chart

import (
	"image/color"
	"io"

	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"

	"primaprova/io/pdf"
	"primaprova/model"
)

// printed is a page of paper that the sheet is fitted on. It embeds what it uses
// of the typeface; its text can be found and copied.
type printed struct {
	*pdf.Document
	faces map[xfont.Weight]pdf.Face
	title string
	day   model.Date // no clock: the same plan gives the same bytes
	scale float64
	x, y  float64 // of the sheet's lower left corner, from the page's upper left
	ink   pdf.Ink
	width float64
	dash  []float64
}

const paperEdge = 24 // points that a printer may leave white

// newPrinted takes a sheet's size in points. The page lies or stands, whichever
// shows the sheet larger.
func newPrinted(p model.Paper, width, height vg.Length, title string, day model.Date) (*printed, error) {
	short, long := p.Size()
	fit := func(w, h float64) float64 {
		return min((w-2*paperEdge)/width.Points(), (h-2*paperEdge)/height.Points())
	}
	w, h := short, long
	if fit(long, short) > fit(short, long) {
		w, h = long, short
	}
	c := &printed{Document: pdf.New(), faces: map[xfont.Weight]pdf.Face{}, title: title, day: day, scale: min(1.5, fit(w, h))}
	c.x, c.y = (w-c.scale*width.Points())/2, paperEdge+c.scale*height.Points()
	for _, f := range faces {
		var err error
		if c.faces[f.weight], err = c.Add("sans", f.weight == xfont.WeightBold, f.ttf); err != nil {
			return nil, err
		}
	}
	c.Page(w, h, "")
	return c, nil
}

func (c *printed) at(p vg.Point) pdf.Point {
	return pdf.Point{X: c.x + c.scale*p.X.Points(), Y: c.y - c.scale*p.Y.Points()}
}

func (c *printed) SetLineWidth(w vg.Length) { c.width = c.scale * w.Points() }

func (c *printed) SetLineDash(pattern []vg.Length, _ vg.Length) {
	c.dash = nil
	for _, l := range pattern {
		c.dash = append(c.dash, c.scale*l.Points())
	}
}

func (c *printed) SetColor(x color.Color) {
	n := color.NRGBAModel.Convert(x).(color.NRGBA)
	c.ink = pdf.Ink{n.R, n.G, n.B}
}

func (c *printed) Stroke(p vg.Path) {
	c.Pen(c.ink, c.width, c.dash...)
	c.path(p, pdf.Outline)
}

func (c *printed) Fill(p vg.Path) {
	c.Ground(c.ink)
	c.path(p, pdf.Fill)
}

// path draws a path of straight lines, or a whole circle.
func (c *printed) path(p vg.Path, how string) {
	var runs [][]pdf.Point
	closed := false
	for _, step := range p {
		at := c.at(step.Pos)
		switch step.Type {
		case vg.ArcComp:
			c.Circle(at.X, at.Y, c.scale*step.Radius.Points(), how)
			return
		case vg.MoveComp:
			runs = append(runs, []pdf.Point{at})
		case vg.LineComp:
			runs[len(runs)-1] = append(runs[len(runs)-1], at)
		case vg.CloseComp:
			closed = true
		}
	}
	c.Path(how, closed, runs...)
}

func (c *printed) FillString(f font.Face, at vg.Point, text string) {
	on := c.at(at)
	c.Text(c.faces[f.Font.Weight], c.scale*f.Font.Size.Points(), on.X, on.Y, c.ink, text)
}

func (c *printed) WriteTo(w io.Writer) (int64, error) {
	return 0, c.Write(w, c.title, c.day.Time())
}

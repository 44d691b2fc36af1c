package chart

import (
	"bufio"
	"fmt"
	"image/color"
	"io"
	"maps"
	"slices"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"

	"primaprova/model"
)

// Format is a format of a picture.
type Format string

// The formats.
const (
	SVG Format = "svg"
	PNG Format = "png"
	PDF Format = "pdf" // on one page of Options.Locale.Paper
)

// Formats lists the formats.
var Formats = []Format{SVG, PNG, PDF}

// Panel is one chart of the season.
type Panel string

// The panels, from top to bottom: what comes of the parts first, then what it asks
// of the body.
const (
	Parts   Panel = "parts"   // each part from arrival to ready
	Chances Panel = "chances" // how sure each part is to be ready at its first rehearsal; see Options
	Weeks   Panel = "weeks"   // playing by ISO week, against the week's caps
	Days    Panel = "days"    // playing by day, against the cap
	Margins Panel = "margins" // days from the last visit to each first rehearsal
)

// Panels lists the panels in their order.
var Panels = []Panel{Parts, Chances, Weeks, Days, Margins}

// Options says what is drawn and how.
type Options struct {
	Format Format
	Panels []Panel // none: all; drawn in the order of Panels
	Locale model.Locale
	// Chances of parts, by programme/part, 0..1: of those that have something
	// ahead of them. Without any the panel is left away.
	Chances map[string]float64
}

// dotsPerInch of a PNG: sharp on paper, and 1,900 dots wide.
const dotsPerInch = 144

// A canvas is what the panels are drawn on, as far as they need it: gonum's, or
// a page of paper.
type canvas interface {
	SetLineWidth(vg.Length)
	SetLineDash(pattern []vg.Length, offset vg.Length)
	SetColor(color.Color)
	Stroke(vg.Path)
	Fill(vg.Path)
	FillString(f font.Face, at vg.Point, text string)
}

// Write draws a season and its plan. It gives the letters that cannot be drawn, in
// order; a name with such letters gives way to its id. The history may be nil.
func Write(w io.Writer, s *model.Season, p *model.Plan, h *model.History, o Options) (missing []rune, err error) {
	l, err := newLetters(o.Format == SVG)
	if err != nil {
		return nil, err
	}
	d := gather(s, p, h, o, l)
	panels := chosen(d, o.Panels)
	height := top + foot
	for _, x := range panels {
		height += x.height + gap
	}
	var c interface {
		canvas
		io.WriterTo
	}
	switch o.Format {
	case SVG:
		c = newPortable(pageWidth, height, s.Title, l)
	case PNG:
		c = signed{vgimg.PngCanvas{Canvas: vgimg.NewWith(vgimg.UseWH(pageWidth, height), vgimg.UseDPI(dotsPerInch))}}
	case PDF:
		if c, err = newPrinted(o.Locale.Paper, pageWidth, height, s.Title, s.From); err != nil {
			return nil, err
		}
	default:
		return nil, fmt.Errorf("%q is no format of a chart", o.Format)
	}
	sheet, err := newSheet(c, height, l)
	if err != nil {
		return nil, err
	}
	sheet.season(d, panels)
	if p, ok := c.(*portable); ok {
		p.sheet = sheet
	}
	b := bufio.NewWriter(w)
	if _, err := c.WriteTo(b); err != nil {
		return nil, err
	}
	return slices.Sorted(maps.Keys(l.missing)), b.Flush()
}

// The page, in points.
const (
	pageWidth  vg.Length = 950
	edge       vg.Length = 16
	left       vg.Length = 214 // of what is drawn; names stand before it
	right      vg.Length = 874 // of what is drawn; what is left out stands behind it
	end        vg.Length = pageWidth - edge
	top        vg.Length = 44
	foot       vg.Length = 26
	gap        vg.Length = 18
	headHeight vg.Length = 24 // a panel's title and legend
)

type panel struct {
	height vg.Length
	draw   func(s *sheet, d *data, y vg.Length) // with its upper edge at y
}

func chosen(d *data, names []Panel) []panel {
	all := map[Panel]panel{
		Days:    {headHeight + loadHeight + axisHeight, (*sheet).days},
		Weeks:   {headHeight + loadHeight + axisHeight, (*sheet).weeks},
		Parts:   {headHeight + rowHeight*vg.Length(d.rows()) + axisHeight, (*sheet).ways},
		Margins: {headHeight + rowHeight*vg.Length(len(d.programmes)) + axisHeight, (*sheet).margins},
		Chances: {headHeight + rowHeight*vg.Length(len(d.programmes)) + axisHeight, (*sheet).chances},
	}
	var out []panel
	for _, n := range Panels {
		if n == Chances && !d.chances {
			continue
		}
		if len(names) == 0 || slices.Contains(names, n) {
			out = append(out, all[n])
		}
	}
	return out
}

func (s *sheet) season(d *data, panels []panel) {
	s.rect(0, 0, pageWidth, s.height, paper, nil)
	s.text(edge, 24, d.title, style{size: 15, bold: true, most: 560})
	s.text(end, 24, d.span, style{size: 9, right: true, most: 300})
	y := top
	for _, p := range panels {
		p.draw(s, d, y)
		y += p.height + gap
	}
	s.text(edge, s.height-12, d.note, style{size: 8, colour: quiet, most: end - edge})
}

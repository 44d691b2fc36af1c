package chart

import (
	"image/color"
	"strings"
	"unicode"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	xfont "golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// sheet draws on a canvas, with y growing downwards from the upper edge, in
// points. It remembers where text stands and which letters were lacking.
type sheet struct {
	c       canvas
	height  vg.Length
	fonts   *font.Cache
	letters *letters
	used    map[xfont.Weight]map[rune]bool
	texts   []textBox
}

// textBox is where a text stands.
type textBox struct {
	text                string
	left, top, right, y vg.Length // y: the line it stands on
}

// faces are the weights of the typeface.
var faces = []struct {
	weight xfont.Weight
	css    string
	ttf    []byte
}{{xfont.WeightNormal, "normal", liberationsansregular.TTF}, {xfont.WeightBold, "bold", liberationsansbold.TTF}}

func newSheet(c canvas, height vg.Length, l *letters) (*sheet, error) {
	s := &sheet{c: c, height: height, letters: l, used: map[xfont.Weight]map[rune]bool{}}
	var all font.Collection
	for _, f := range faces {
		parsed, err := opentype.Parse(f.ttf)
		if err != nil {
			return nil, err
		}
		all = append(all, font.Face{Font: font.Font{Typeface: "Liberation", Variant: "Sans", Weight: f.weight}, Face: parsed})
		s.used[f.weight] = map[rune]bool{}
	}
	s.fonts = font.NewCache(all)
	return s, nil
}

// style is how a text is set.
type style struct {
	size          vg.Length
	bold          bool
	right, middle bool        // x is the text's right end, or its middle
	colour        color.Color // nil: ink
	most          vg.Length   // a text wider than this ends in an ellipsis; 0: never
}

func (s *sheet) face(t style) font.Face {
	f := font.Font{Typeface: "Liberation", Variant: "Sans"}
	if t.bold {
		f.Weight = xfont.WeightBold
	}
	return s.fonts.Lookup(f, t.size)
}

func (s *sheet) width(text string, t style) vg.Length {
	return s.letters.width(s.face(t), text)
}

// text writes one line that stands on y, and gives its width.
func (s *sheet) text(x, y vg.Length, text string, t style) vg.Length {
	face := s.face(t)
	measure := func(text string) vg.Length { return s.letters.width(face, text) }
	text = shorten(s.letters.line(text), t.most, measure)
	if text == "" {
		return 0
	}
	width := measure(text)
	switch {
	case t.right:
		x -= width
	case t.middle:
		x -= width / 2
	}
	for _, r := range text {
		if s.letters.has(r) {
			s.used[face.Font.Weight][r] = true
		}
	}
	s.colour(t.colour)
	s.c.FillString(face, vg.Point{X: x, Y: s.height - y}, text)
	s.texts = append(s.texts, textBox{text, x, y - face.Extents().Ascent, x + width, y})
	return width
}

// shorten cuts a text to a width and marks the cut.
func shorten(text string, most vg.Length, width func(string) vg.Length) string {
	if most <= 0 || width(text) <= most {
		return text
	}
	runes := []rune(text)
	for n := len(runes) - 1; n > 0; n-- {
		cut := strings.TrimRightFunc(string(runes[:n]), unicode.IsSpace) + "…"
		if width(cut) <= most && !unicode.Is(unicode.Mn, runes[n]) {
			return cut
		}
	}
	return "…"
}

func (s *sheet) colour(c color.Color) {
	if c == nil {
		c = ink
	}
	s.c.SetColor(c)
}

// rect fills a rectangle, and draws its outline where one is wanted.
func (s *sheet) rect(x0, y0, x1, y1 vg.Length, fill, outline color.Color) {
	s.shape(fill, outline, vg.Point{X: x0, Y: y0}, vg.Point{X: x1, Y: y0}, vg.Point{X: x1, Y: y1}, vg.Point{X: x0, Y: y1})
}

const fine vg.Length = 0.75 // the width of outlines

// shape fills a polygon, and draws its outline where one is wanted.
func (s *sheet) shape(fill, outline color.Color, corners ...vg.Point) {
	var p vg.Path
	for i, c := range corners {
		at := vg.Point{X: c.X, Y: s.height - c.Y}
		if i == 0 {
			p.Move(at)
		} else {
			p.Line(at)
		}
	}
	p.Close()
	s.paint(p, fill, outline)
}

func (s *sheet) paint(p vg.Path, fill, outline color.Color) {
	if fill != nil {
		s.c.SetColor(fill)
		s.c.Fill(p)
	}
	if outline != nil {
		s.c.SetColor(outline)
		s.c.SetLineWidth(fine)
		s.c.SetLineDash(nil, 0)
		s.c.Stroke(p)
	}
}

// line draws straight from point to point.
func (s *sheet) line(width vg.Length, dash []vg.Length, c color.Color, points ...vg.Point) {
	if len(points) < 2 {
		return
	}
	var p vg.Path
	p.Move(vg.Point{X: points[0].X, Y: s.height - points[0].Y})
	for _, q := range points[1:] {
		p.Line(vg.Point{X: q.X, Y: s.height - q.Y})
	}
	s.c.SetColor(c)
	s.c.SetLineWidth(width)
	s.c.SetLineDash(dash, 0)
	s.c.Stroke(p)
}

// strokes draws several straight lines, each from one point to the next of a pair, in
// one stroke: a file then says their colour and width once.
func (s *sheet) strokes(width vg.Length, c color.Color, pairs ...vg.Point) {
	if len(pairs) == 0 {
		return
	}
	var p vg.Path
	for i, q := range pairs {
		if at := (vg.Point{X: q.X, Y: s.height - q.Y}); i%2 == 0 {
			p.Move(at)
		} else {
			p.Line(at)
		}
	}
	s.c.SetColor(c)
	s.c.SetLineWidth(width)
	s.c.SetLineDash(nil, 0)
	s.c.Stroke(p)
}

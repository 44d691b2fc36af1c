package chart

import (
	"strings"
	"unicode"

	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/text/unicode/norm"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"

	"primaprova/model"
)

// letters knows what can be drawn. Of an SVG the viewer draws what the typeface
// lacks, with fonts and a shaper of its own; elsewhere such a name gives way to
// another, as do those of scripts that need a shaper.
type letters struct {
	glyphs  *sfnt.Font
	viewer  bool
	missing map[rune]bool
}

func newLetters(viewer bool) (*letters, error) {
	glyphs, err := sfnt.Parse(liberationsansregular.TTF)
	return &letters{glyphs, viewer, map[rune]bool{}}, err
}

// has tells whether the typeface has a letter.
func (l *letters) has(r rune) bool {
	g, err := l.glyphs.GlyphIndex(nil, r)
	return err == nil && g != 0
}

// name gives a title, or another name in its place.
func (l *letters) name(title, other string) string {
	title = l.line(title)
	whole := title != ""
	for _, r := range title {
		if !l.viewer && (model.NeedsShaper(r) || !l.has(r)) {
			l.missing[r], whole = true, false
		}
	}
	if !whole {
		return other
	}
	return title
}

// locale gives the reader's ways, as far as the typeface has their letters.
func (l *letters) locale(of model.Locale) model.Locale {
	return of.Written(func(s string) bool { return l.name(s, "") != "" })
}

// line makes one line of a text, a letter and its accent put together where the two
// exist as one.
func (l *letters) line(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, norm.NFC.String(text))
}

// width measures a text. What the viewer draws is taken to be as wide as it is high.
func (l *letters) width(face font.Face, text string) vg.Length {
	own, other := strings.Builder{}, vg.Length(0)
	for _, r := range text {
		if l.has(r) {
			own.WriteRune(r)
		} else {
			other += face.Font.Size
		}
	}
	return face.Width(own.String()) + other
}

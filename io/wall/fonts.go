package wall

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode"

	"codeberg.org/go-fonts/dejavu/dejavusans"
	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/text/unicode/norm"

	"primaprova/io/pdf"
	"primaprova/model"
)

// face is one font file. Widths are in thousandths of the size, as they stand
// in the PDF.
type face struct {
	pdf.Face
	font   *sfnt.Font
	widths map[rune]float64 // of the letters it has, those asked for so far; below 0: has it not
}

// fonts measures texts and splits them among faces: Liberation Sans first, then
// DejaVu Sans for signs and scripts beyond it, then the reader's own.
type fonts struct {
	pdf           *pdf.Document
	regular, bold []*face
	lacking       map[rune]bool
}

const (
	ascent  = 0.74 // of the size: height of capitals and figures above the line, accents apart
	descent = 0.21 // and what hangs below it
	leading = 1.16 // from line to line
)

func newFonts(own []byte) (*fonts, error) {
	f := &fonts{pdf: pdf.New(), lacking: map[rune]bool{}}
	both := []*[]*face{&f.regular, &f.bold}
	for _, x := range []struct {
		family string
		bold   bool
		ttf    []byte
		in     []*[]*face
	}{{"text", false, liberationsansregular.TTF, both[:1]}, {"text", true, liberationsansbold.TTF, both[1:]}, {"signs", false, dejavusans.TTF, both}, {"own", false, own, both}} {
		if len(x.ttf) == 0 { // the reader has none
			continue
		}
		a, err := f.face(x.family, x.bold, x.ttf)
		if err != nil {
			return nil, err
		}
		for _, list := range x.in {
			*list = append(*list, a)
		}
	}
	return f, nil
}

// face takes a font in.
func (f *fonts) face(family string, bold bool, ttf []byte) (*face, error) {
	in, err := f.pdf.Add(family, bold, ttf)
	if err != nil {
		return nil, err
	}
	parsed, err := sfnt.Parse(ttf)
	if err != nil {
		return nil, fmt.Errorf("font: cannot be read (%w)", err)
	}
	return &face{in, parsed, map[rune]float64{}}, nil
}

// width gives a letter's width in thousandths of the size, below 0 where the
// face lacks it. Letters beyond the first 65,536 have no place in the library's
// encoding.
func (f *fonts) width(a *face, r rune) float64 {
	if w, known := a.widths[r]; known {
		return w
	}
	w := -1.0
	if i, err := a.font.GlyphIndex(nil, r); err == nil && i != 0 && r <= 0xffff {
		w = f.pdf.Width(a.Face, r)
	}
	a.widths[r] = w
	return w
}

// run is a piece of a text in one face.
type run struct {
	face  *face
	text  string
	width float64 // in thousandths of the size
}

// faceOf gives the face that sets a letter, and the letter: one that no face has
// becomes ?, and is remembered.
func (f *fonts) faceOf(r rune, bold bool) (*face, rune) {
	faces := f.regular
	if bold {
		faces = f.bold
	}
	for _, a := range faces {
		if f.width(a, r) >= 0 && (r <= unicode.MaxLatin1 || f.has(r)) {
			return a, r
		}
	}
	f.lacking[r] = true
	return faces[0], '?'
}

// split gives a text's runs.
func (f *fonts) split(s string, bold bool) []run {
	var out []run
	for _, r := range s {
		a, r := f.faceOf(r, bold)
		if len(out) == 0 || out[len(out)-1].face != a {
			out = append(out, run{face: a})
		}
		last := &out[len(out)-1]
		last.text += string(r)
		last.width += f.width(a, r)
	}
	return out
}

// measure gives a text's width at a size.
func (f *fonts) measure(s string, bold bool, size float64) float64 {
	sum := 0.0
	for _, r := range s {
		a, r := f.faceOf(r, bold)
		sum += f.width(a, r)
	}
	return sum * size / 1000
}

// cut shortens a text to a width, an ellipsis for what is gone; to nothing
// where less than three letters would be left of it.
func (f *fonts) cut(s string, bold bool, size, width float64) string {
	const hair = 0.001 // what sums of widths may lose in rounding
	if f.measure(s, bold, size) <= width+hair {
		return s
	}
	left := width - f.measure("…", bold, size)
	n := 0
	for i, r := range s {
		if left -= f.measure(string(r), bold, size); left < 0 {
			s = strings.TrimRight(s[:i], " ,.;:(-")
			break
		}
		n++
	}
	if n < 3 {
		return ""
	}
	return s + "…"
}

// title gives a title, or another name where there is none or where it has letters
// that are not set here: an id, which the player knows too, or a number says more
// than a row of ?.
func (f *fonts) title(s, other string) string {
	whole := s != ""
	for _, r := range s {
		if !f.has(r) {
			f.lacking[r], whole = true, false
		}
	}
	if !whole {
		return other
	}
	return s
}

// locale gives the reader's ways, as far as fonts have their letters.
func (f *fonts) locale(l model.Locale) model.Locale {
	return l.Written(func(s string) bool { return f.title(clean(s), "") != "" })
}

// has tells whether a letter is set here: any face has it, and it stands alone.
func (f *fonts) has(r rune) bool {
	return !model.NeedsShaper(r) && slices.ContainsFunc(f.regular, func(a *face) bool { return f.width(a, r) >= 0 })
}

func (f *fonts) missing() []rune { return slices.Sorted(maps.Keys(f.lacking)) }

// clean makes one line of a name, accents joined to their letters where such a
// letter exists: fonts know those.
func clean(s string) string {
	s = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || unicode.IsSpace(r) {
			return ' '
		}
		return r
	}, norm.NFC.String(strings.ToValidUTF8(s, "?")))
	return strings.Join(strings.Fields(s), " ")
}

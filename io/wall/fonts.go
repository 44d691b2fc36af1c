package wall

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"codeberg.org/go-fonts/dejavu/dejavusans"
	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/text/unicode/norm"

	"primaprova/model"
)

// face is one font file. Widths are in thousandths of the size, as they stand
// in the PDF.
type face struct {
	family, style string
	font          *sfnt.Font
	widths        map[rune]float64 // of the letters it has, those asked for so far; below 0: has it not
}

// fonts measures texts and splits them among faces: Liberation Sans first, then
// DejaVu Sans for signs and scripts beyond it, then the reader's own.
type fonts struct {
	pdf           *fpdf.Fpdf
	regular, bold []*face
	lacking       map[rune]bool
}

const (
	ascent  = 0.74 // of the size: height of capitals and figures above the line, accents apart
	descent = 0.21 // and what hangs below it
	leading = 1.16 // from line to line
)

func newFonts(own []byte) (*fonts, error) {
	f := &fonts{pdf: fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt"}), lacking: map[rune]bool{}}
	plain, err := f.face("text", "", liberationsansregular.TTF)
	if err != nil {
		return nil, err
	}
	bold, err := f.face("text", "B", liberationsansbold.TTF)
	if err != nil {
		return nil, err
	}
	others, err := f.face("signs", "", dejavusans.TTF)
	if err != nil {
		return nil, err
	}
	f.regular, f.bold = []*face{plain, others}, []*face{bold, others}
	if len(own) > 0 {
		reader, err := f.face("own", "", own)
		if err != nil {
			return nil, err
		}
		f.regular, f.bold = append(f.regular, reader), append(f.bold, reader)
	}
	return f, nil
}

// face takes a font in. Over a broken one the PDF library stumbles.
func (f *fonts) face(family, style string, ttf []byte) (out *face, err error) {
	if err := embeddable(ttf); err != nil {
		return nil, fmt.Errorf("font: %w", err)
	}
	parsed, err := sfnt.Parse(ttf)
	if err != nil {
		return nil, fmt.Errorf("font: cannot be read (%w)", err)
	}
	defer broken(&err)
	f.pdf.AddUTF8FontFromBytes(family, style, ttf)
	f.pdf.SetFont(family, style, 1000)
	if err := f.pdf.Error(); err != nil {
		return nil, fmt.Errorf("font: cannot be embedded (%w)", err)
	}
	return &face{family: family, style: style, font: parsed, widths: map[rune]float64{}}, nil
}

// broken turns a panic of the PDF library into an error of the font.
func broken(err *error) {
	if r := recover(); r != nil {
		*err = fmt.Errorf("font: is broken (%v)", r)
	}
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
		f.pdf.SetFont(a.family, a.style, 1000)
		w = float64(f.pdf.GetStringSymbolWidth(string(r)))
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

// locale gives the reader's ways, in English names where fonts lack letters of
// the reader's own.
func (f *fonts) locale(l model.Locale) model.Locale {
	whole := func(names []string) bool {
		return !slices.ContainsFunc(names, func(s string) bool { return s != "" && f.title(clean(s), "") == "" })
	}
	if !whole(l.Weekdays) {
		l.Weekdays = nil
	}
	if !whole(l.Months) {
		l.Months = nil
	}
	return l
}

// has tells whether a letter is set here: any face has it, and it stands alone.
func (f *fonts) has(r rune) bool {
	return !model.NeedsShaper(r) && slices.ContainsFunc(f.regular, func(a *face) bool { return f.width(a, r) >= 0 })
}

func (f *fonts) missing() []rune {
	var out []rune
	for r := range f.lacking {
		out = append(out, r)
	}
	slices.Sort(out)
	return out
}

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

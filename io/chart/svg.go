package chart

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"encoding/xml"
	"fmt"
	"hash/crc32"
	"io"
	"maps"
	"slices"
	"strings"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"
)

// portable is an SVG that carries what it uses of its typeface. The library
// would embed whole faces, some 800 kB.
type portable struct {
	*vgsvg.Canvas
	sheet *sheet // which letters are used; set before it is written
	title string
	*letters
}

func newPortable(width, height vg.Length, title string, l *letters) *portable {
	return &portable{Canvas: vgsvg.NewWith(vgsvg.UseWH(width, height)), title: title, letters: l}
}

// FillString writes a text. One with letters beyond the typeface is a name in a
// language that nobody has told; the others are English.
func (p *portable) FillString(f font.Face, at vg.Point, text string) {
	if strings.ContainsFunc(text, func(r rune) bool { return !p.has(r) }) {
		text = foreign + text
	}
	p.Canvas.FillString(f, at, text)
}

// foreign marks such a text until the file is written: a character that is no text
// (Unicode, section 23.7).
const foreign = "\ufdd0"

// headEnd ends the head that the library writes.
var headEnd = []byte("xmlns:xlink=\"http://www.w3.org/1999/xlink\">\n")

func (p *portable) WriteTo(w io.Writer) (int64, error) {
	var b, head bytes.Buffer
	if _, err := p.Canvas.WriteTo(&b); err != nil {
		return 0, err
	}
	if !bytes.Contains(b.Bytes(), headEnd) {
		return 0, fmt.Errorf("the head of the SVG is not as it was")
	}
	head.WriteString("xmlns:xlink=\"http://www.w3.org/1999/xlink\" xml:lang=\"en\">\n")
	head.WriteString("<title>")
	if err := xml.EscapeText(&head, []byte(p.title)); err != nil {
		return 0, err
	}
	head.WriteString("</title>\n<desc>primaprova</desc>\n<defs><style>\n")
	for _, f := range faces {
		if len(p.sheet.used[f.weight]) == 0 {
			continue
		}
		small, err := subset(f.ttf, slices.Sorted(maps.Keys(p.sheet.used[f.weight])))
		if err != nil {
			return 0, err
		}
		fmt.Fprintf(&head, "@font-face{font-family:%q;font-weight:%s;src:url(data:font/ttf;base64,%s) format(\"truetype\");}\n",
			"Liberation Sans", f.css, base64.StdEncoding.EncodeToString(small))
	}
	head.WriteString(":root{max-width:100%;height:auto}\n</style></defs>\n") // no wider than the window
	body := bytes.Replace(b.Bytes(), headEnd, head.Bytes(), 1)
	body = bytes.ReplaceAll(body, []byte(">"+foreign), []byte(` xml:lang="">`))
	n, err := w.Write(body)
	return int64(n), err
}

// signed is a PNG that says what made it, in a tEXt chunk with the keyword
// Software (W3C, Portable Network Graphics, 11.3.3).
type signed struct{ vgimg.PngCanvas }

// headLength is that of the signature and of the first chunk, IHDR.
const headLength = 8 + 12 + 13

func (s signed) WriteTo(w io.Writer) (int64, error) {
	var b bytes.Buffer
	if _, err := s.PngCanvas.WriteTo(&b); err != nil {
		return 0, err
	}
	text := []byte("tEXtSoftware\x00primaprova")
	chunk := binary.BigEndian.AppendUint32(nil, uint32(len(text)-4))
	chunk = binary.BigEndian.AppendUint32(append(chunk, text...), crc32.ChecksumIEEE(text))
	n, err := w.Write(append(b.Bytes()[:headLength:headLength], append(chunk, b.Bytes()[headLength:]...)...))
	return int64(n), err
}

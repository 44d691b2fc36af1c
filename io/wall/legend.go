package wall

import (
	"strings"

	"primaprova/model"
)

// caution stands at the foot of every page. It gives no figures: those are the
// player's and the physician's.
const caution = "Pain, numbness or tingling: stop. If it stays or comes back, see a physician or physiotherapist. This plan promises no safety."

// The foot of a page: programmes in columns, lines to write on beside or below
// them, the key of marks, the caution.
const (
	entryWidth  = 33.0 // of a programme at least, in sizes of its text
	entryIndent = 5.7  // of its words, beside its chip and pattern
	entryHeight = 2.85
	notesWidth  = 34.0
	leastNotes  = 4   // lines to write on, where the programmes leave less
	lineHeight  = 2.4 // between those lines
	keySize     = 0.93
	keyPitch    = 1.55
)

// footer is the measure of a page's foot.
type footer struct {
	size, width   float64 // of its text; of the page
	columns, rows int     // of programmes
	entry         float64 // the width of one
	shown         []*programme
	more          int // programmes for which there is no room
	signs         []sign
	spots         []spot // of the signs
	lines         int    // that they take
}

// footer measures a foot that shows the programmes of some days, their legend at
// most so high.
func (d *diary) footer(f0 *fonts, days model.Range, width, most, size float64, says ...string) footer {
	f := footer{size: size, width: width, shown: d.during(days), signs: d.signs(f0, size*keySize, says)}
	f.spots, f.lines = keyed(f.signs, width, size*keySize)
	room := width - notesWidth*size
	f.columns, f.entry = max(1, int(room/(entryWidth*size))), entryWidth*size
	rows := max(1, int(most/(entryHeight*size)))
	if wide := d.widestEntry(f0, f.shown, size); wide > f.entry { // fewer columns rather than words cut off
		if c := max(1, min(f.columns, int(room/wide))); len(f.shown) <= c*rows {
			f.columns = c
		}
		f.entry = max(f.entry, min(wide, room/float64(f.columns)))
	}
	if n := len(f.shown) - f.columns*rows; n > 0 {
		f.more = n + 1
		f.shown = f.shown[:len(f.shown)-f.more]
	}
	if n := len(f.shown); n > 0 {
		f.columns = min(f.columns, n)
		f.rows = (n + min(1, f.more) + f.columns - 1) / f.columns
	}
	return f
}

// widestEntry gives how wide the words of a programme's entry would be.
func (d *diary) widestEntry(f *fonts, shown []*programme, size float64) float64 {
	most := 0.0
	for _, q := range shown {
		most = max(most, f.measure(q.title, true, size), f.measure(d.dates(q), false, size*keySize))
	}
	return most + (entryIndent+2)*size
}

// height is the foot's whole height, with the room above it.
func (f footer) height() float64 {
	return f.high() + (float64(f.lines)*keyPitch+2.0)*f.size + f.above()
}

// high is the height of the legend.
func (f footer) high() float64 {
	return max(float64(f.rows)*entryHeight, leastNotes*lineHeight) * f.size
}

func (f footer) above() float64 { return 1.1 * f.size }

// foot draws the legend and the lines to write on at the bottom of a page.
func (d *diary) foot(s *sheet, page box, f footer) {
	size := f.size
	at := box{page.x, page.bottom() - f.height() + f.above(), page.w, f.height() - f.above()}
	high := f.high()
	spot := func(i int) box {
		return box{at.x + float64(i/f.rows)*f.entry, at.y + float64(i%f.rows)*entryHeight*size, f.entry - size, entryHeight * size}
	}
	for i, q := range f.shown {
		d.entry(s, q, spot(i), size)
	}
	if f.more > 0 {
		s.write("and "+several(f.more, "more programme"), style{size, false, black}, spot(len(f.shown)).beside(entryIndent*size))
	}
	left := 0.0
	if len(f.shown) > 0 {
		left = float64(f.columns) * f.entry
	}
	notes := box{at.x + left, at.y, at.w - left, high}
	s.write("Notes", style{size, true, quiet}, notes)
	for y := notes.y + lineHeight*size; y <= notes.bottom()+0.1; y += lineHeight * size {
		s.add(line{notes.x, y, notes.right(), y, 0.5, faint})
	}
	for i, g := range f.signs {
		p := f.spots[i]
		g.draw(s, box{at.x + p.x, at.y + high + (0.5+float64(p.line)*keyPitch)*size, p.w, pitch(size * keySize)})
	}
	s.write(caution, style{size * keySize, false, quiet}, box{at.x, at.bottom() - 1.2*size, at.w, 1.2 * size})
}

// entry is a programme in the legend.
func (d *diary) entry(s *sheet, q *programme, at box, size float64) {
	chip := box{at.x, at.y + size*0.1, size * 1.7, size * 1.25}
	s.add(area{box: chip, ink: q.look.tone})
	s.writeMid(q.look.letter, style{size, true, paper}, chip.below(size*0.14))
	s.add(texture{box{at.x + 2*size, at.y + size*0.1, size * 3.2, size * 1.25}, q.look})
	text := at.beside(entryIndent * size)
	s.write(q.title, style{size, true, black}, text.below(size*0.05))
	s.write(d.dates(q), style{size * keySize, false, black}, text.below(size*1.3))
}

// dates says when a programme is due.
func (d *diary) dates(q *programme) string {
	var out []string
	if q.ready != 0 {
		out = append(out, "ready by "+d.locale.Brief(q.ready))
	}
	if q.first != 0 {
		out = append(out, "first rehearsal "+d.locale.Brief(q.first))
	}
	var concerts []string
	for _, v := range q.Services {
		if v.Kind == model.Concert {
			concerts = append(concerts, d.locale.Brief(v.Date))
		}
	}
	switch n := len(concerts); {
	case n == 1:
		out = append(out, "concert "+concerts[0])
	case n > 1:
		out = append(out, "concerts "+concerts[0]+" to "+concerts[n-1])
	}
	if q.leftOut > 0 {
		out = append(out, itoa(q.leftOut)+" left out")
	}
	return strings.Join(out, ", ")
}

// visitsSay and weekSay explain figures of the season's and the months' sheets.
const (
	visitsSay = "×3: three visits"
	weekSay   = "left: ISO week, hours of playing"
)

// sign is one entry of the key: its width, and how it is drawn.
type sign struct {
	width float64
	draw  func(*sheet, box)
}

// signs gives the key of marks, bar and figures.
func (d *diary) signs(f *fonts, size float64, says []string) []sign {
	blank := &sheet{fonts: f}
	var out []sign
	for _, c := range []chunk{{firstMark, "", black, []string{"first rehearsal"}}, {rehearsalMark, "", black, []string{"rehearsal"}},
		{concertMark, "", black, []string{"concert"}}, {readyMark, "", black, []string{"ready by this day"}}} {
		out = append(out, sign{blank.chunkWidth(c, 0, size), func(s *sheet, at box) { s.chunk(c, 0, size, at) }})
	}
	plain := style{size, false, black}
	with := func(text string, draw func(box) item) {
		swatch := size * 2.4
		out = append(out, sign{swatch + size*0.4 + f.measure(text, false, size), func(s *sheet, at box) {
			s.add(draw(box{at.x, at.y + size*0.15, swatch, size * 0.95}))
			s.write(text, plain, at.beside(swatch+size*0.4).below(size*0.13))
		}})
	}
	with("playing in services", func(b box) item { return area{box: b, ink: black} })
	with("planned", func(b box) item { return texture{b, look{tone: black, pattern: pattern{rising, false}}} })
	with("warm-up", func(b box) item { return area{box: b, ink: faint} })
	with("the day's cap (highest "+d.highest.String()+")", func(b box) item { return frame{b, 0.5, quiet, false} })
	for _, text := range says {
		out = append(out, sign{f.measure(text, false, size), func(s *sheet, at box) { s.write(text, plain, at.below(size*0.13)) }})
	}
	return out
}

// keyed sets signs into lines of a width: for each its line and place.
func keyed(signs []sign, width, size float64) (spots []spot, lines int) {
	line, x := 0, 0.0
	for _, g := range signs {
		w := min(g.width, width)
		if x > 0 && x+w > width {
			line, x = line+1, 0
		}
		spots = append(spots, spot{line: line, x: x, w: w})
		x += w + size*1.3
	}
	return spots, line + 1
}

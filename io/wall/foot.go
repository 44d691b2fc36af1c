package wall

import (
	"slices"
	"strings"

	"primaprova/model"
)

// caution stands at the foot of every page. It gives no figures: those are the
// player's and the physician's.
const caution = "Pain, numbness or tingling: stop. If it stays or comes back, see a physician or physiotherapist. This plan promises no safety."

// The foot of a page: programmes in columns, lines to write on beside or below
// them, the key of marks, short names, what is left out, the caution, of which
// plan the sheet is. Measures are in sizes of its text.
const (
	entryWidth  = 33.0 // of a programme at least
	entryIndent = 5.7  // of its words, beside its chip and pattern
	entryHeight = 2.85
	notesWidth  = 30.0
	leastNotes  = 2   // lines to write on, where the programmes leave less
	lineHeight  = 2.4 // between those lines
	keyPitch    = 1.55
	mostLines   = 6 // of short names, and of what is left out
)

// footing is what a page's foot says besides what every foot says.
type footing struct {
	says  []string // of figures
	names bool     // which work each short name stands for
	ways  bool     // what stands in a part's row
	heat  bool     // how much playing each ground means
	bare  bool     // no bars are explained and no lines are left to write on
}

// footer is the measure of a page's foot.
type footer struct {
	size          float64 // of its text
	columns, rows int     // of programmes
	entry         float64 // the width of one
	bare          bool
	shown         []*programme
	more          int // programmes for which there is no room
	signs         []sign
	spots         []spot // of the signs
	lines         int    // that they take
	words         []string
}

// footer measures a foot that shows the programmes of some days, their legend at
// most so high.
func (d *diary) footer(f0 *fonts, days model.Range, width, most, size float64, o footing) footer {
	f := footer{size: size, bare: o.bare, shown: d.during(days), signs: d.signs(f0, size, o)}
	f.spots, f.lines = keyed(f.signs, width, size)
	if o.names {
		f.words = append(f.words, lined(f0, "Short names: ", d.shortNames(days), size, width)...)
	}
	f.words = append(f.words, lined(f0, "", d.leftOut(f.shown), size, width)...)
	f.words = append(f.words, lined(f0, "", strings.Fields(caution), size, width)...)
	room := width - notesWidth*size
	if o.bare {
		room = width
	}
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
		most = max(most, f.measure(q.title, true, size), f.measure(d.dates(q), false, size))
	}
	return most + (entryIndent+2)*size
}

// height is the foot's whole height, with the room above it.
func (f footer) height() float64 {
	return f.high() + (0.5+float64(f.lines)*keyPitch)*f.size + float64(len(f.words)+1)*pitch(f.size) + f.above()
}

// high is the height of the legend.
func (f footer) high() float64 {
	if f.bare {
		return float64(f.rows) * entryHeight * f.size
	}
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
	if !f.bare {
		d.notes(s, box{at.x + left, at.y, at.w - left, high}, size)
	}
	for i, g := range f.signs {
		p := f.spots[i]
		g.draw(s, box{at.x + p.x, at.y + high + (0.5+float64(p.line)*keyPitch)*size, p.w, pitch(size)})
	}
	words := at.below(high + (0.5+float64(f.lines)*keyPitch)*size)
	for _, text := range f.words {
		s.write(text, style{size, false, black}, words.top(pitch(size)))
		words = words.below(pitch(size))
	}
	d.stamp(s, words.top(pitch(size)), size)
}

// notes leaves lines to write on.
func (d *diary) notes(s *sheet, at box, size float64) {
	s.write("Notes", style{size, true, quiet}, at)
	for y := at.y + lineHeight*size; y <= at.bottom()+0.1; y += lineHeight * size {
		s.add(line{at.x, y, at.right(), y, 0.5, faint})
	}
}

// stamp says of which plan a sheet is, and leaves room for which sheet it is.
func (d *diary) stamp(s *sheet, at box, size float64) {
	room := s.fonts.measure("sheet 888 of 888", false, size)
	s.write(d.source, style{size, false, quiet}, at.left(at.w-room-size))
	s.stamp = word{size: size, ink: quiet, cell: box{at.right() - room, at.y, room, at.h}}
}

// numbered says of each sheet which it is.
func numbered(sheets []*sheet) {
	for i, s := range sheets {
		s.writeRight("sheet "+itoa(i+1)+" of "+itoa(len(sheets)), style{s.stamp.size, false, s.stamp.ink}, s.stamp.cell)
	}
}

// lined sets phrases into lines of a width, after a few words; where there are
// too many of them the last line says how many are left.
func lined(f *fonts, before string, phrases []string, size, width float64) []string {
	var out []string
	line := before
	for i, p := range phrases {
		next := strings.TrimLeft(line+" "+p, " ")
		if line == before {
			next = before + p
		}
		more := " and " + itoa(len(phrases)-i) + " more"
		if len(out) == mostLines-1 && i < len(phrases)-1 && f.measure(next+more, false, size) > width {
			return append(out, line+more)
		}
		if line != before && f.measure(next, false, size) > width {
			out, next = append(out, line), p
		}
		line = next
	}
	if len(phrases) > 0 {
		out = append(out, line)
	}
	return out
}

// shortNames says which work each short name of some days stands for.
func (d *diary) shortNames(days model.Range) []string {
	var out []string
	for i := range d.programmes {
		q := &d.programmes[i]
		for j := range q.Parts {
			p := d.parts[model.PartName(q.ID, q.Parts[j].ID)]
			if d.works(p, days) && p.title != p.id {
				out = append(out, q.look.letter+" "+p.id+" = "+p.title+";")
			}
		}
	}
	if n := len(out); n > 0 {
		out[n-1] = strings.TrimSuffix(out[n-1], ";") + "."
	}
	return out
}

// works tells whether some days hold something of a part.
func (d *diary) works(p *part, days model.Range) bool {
	for date := days.From; date <= days.To; date++ {
		if x := d.on(date); x != nil && slices.ContainsFunc(x.pieces, func(y piece) bool { return y.part == p }) {
			return true
		}
	}
	return false
}

// leftOut says what the plan leaves out of some programmes.
func (d *diary) leftOut(shown []*programme) []string {
	var out []string
	n, all := 0, 0
	for _, q := range d.programmes {
		all += q.leftOut
	}
	for _, q := range shown {
		n += q.leftOut
		out = append(out, q.lacks...)
	}
	switch {
	case all == 0:
		return []string{"Nothing is left out."}
	case n == 0:
		return []string{"Nothing of these programmes is left out; of others " + several(all, "session") + "."}
	}
	head := "Left out, " + several(n, "session")
	if all > n {
		head += " of " + itoa(all)
	}
	out[0] = head + ": " + out[0]
	out[len(out)-1] = strings.TrimSuffix(out[len(out)-1], ";") + "."
	return out
}

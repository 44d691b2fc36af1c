package wall

import (
	"strings"

	"primaprova/model"
)

// Of the sheet for the stand, on A4: the sizes of its text, of the bars, and of its
// foot.
const (
	standText, standBars, standFoot = 13.0, 17.0, 9.0
	wentWidth                       = 8.5 // of the line to write on, in sizes of the text
)

// stood gives the days for the stand: those asked for, or else what is left of the
// reader's week with today.
func (d *diary) stood(days model.Range, o Options) model.Range {
	if o.Days != (model.Range{}) || d.History == nil {
		return days
	}
	today := min(max(d.History.Today, days.From), days.To)
	return model.Range{From: today, To: min(d.locale.WeekOf(today).To, days.To)}
}

// daySheets gives the pages of each day on which there is something to do; of the
// first day where there is nothing on any.
func (d *diary) daySheets(page func(string) *sheet, days model.Range) []*sheet {
	var out []*sheet
	for date := days.From; date <= days.To; date++ {
		if len(d.Sheet(date).Lines) > 0 {
			out = append(out, d.standSheets(page, d.on(date))...)
		}
	}
	if len(out) == 0 {
		out = d.standSheets(page, d.on(days.From))
	}
	return out
}

// standing is a day being laid out on pages for the stand.
type standing struct {
	d     *diary
	page  func(string) *sheet
	day   *day
	pages []*sheet
	k     float64
	size  float64
	foot  footer
	room  box // what is left of the page
}

func (d *diary) standSheets(page func(string) *sheet, x *day) []*sheet {
	k := scaleOf(page("").page(), 790.0*543) // 1 on A4
	t := &standing{d: d, page: page, day: x, k: k, size: standText * k}
	t.turn()
	sheet := d.Sheet(x.date)
	rows := d.rows(t.sheet().fonts, sheet.Lines, false)
	l := d.lead(t.sheet().fonts, rows)
	for _, r := range rows {
		t.row(r, l)
	}
	if len(rows) == 0 && x.free == "" {
		t.say("Nothing is planned.", t.size)
	}
	t.space(0.8)
	if n := len(sheet.Mind); n > 0 && sheet.Mind[n-1] == model.OnPain { // which stands at the foot
		sheet.Mind = sheet.Mind[:n-1]
	}
	t.say(strings.Join(sheet.Mind, " "), standFoot*t.k)
	t.end()
	return t.pages
}

// end closes a page with its foot, which is read last.
func (t *standing) end() { t.d.foot(t.sheet(), t.sheet().page(), t.foot) }

func (t *standing) sheet() *sheet { return t.pages[len(t.pages)-1] }

// turn begins a page.
func (t *standing) turn() {
	d, x := t.d, t.day
	title := d.locale.Long(x.date)
	if len(t.pages) > 0 {
		t.end()
		title += ", page " + itoa(len(t.pages)+1)
	}
	s := t.page(title)
	t.pages = append(t.pages, s)
	at := s.page()
	days := model.Range{From: x.date, To: x.date}
	t.foot = d.footer(s.fonts, days, at.w, at.h*0.2, standFoot*t.k, footing{says: []string{"went at: the tempo reached"}, names: true, bare: true})
	s.write(title, style{20 * t.k, true, black}, at.top(26*t.k))
	t.room = box{at.x, at.y + 28*t.k, at.w, at.h - 28*t.k - t.foot.height()}
	if len(t.pages) > 1 {
		return
	}
	chunks := d.markChunks(x)
	l := slot{box: t.room, size: t.size, head: pitch(t.size), lines: 2 * len(chunks), apart: true}
	t.room = t.room.below(float64(s.flow(chunks, l)) * pitch(t.size))
	sum := d.Loads().On(x.date)
	said := sum.Said(inHours)
	if x.listening > 0 {
		said += " Listening " + inHours(x.listening) + "."
	}
	if q := d.ahead(x.date); q != nil {
		said += " " + t.countdown(q)
	}
	t.say(said, t.size)
	t.say(strings.Join(d.Season.Marked(x.date, d.locale.Day), " "), t.size)
	t.space(0.4)
}

// ahead gives the programme whose first rehearsal comes next.
func (d *diary) ahead(on model.Date) *programme {
	for i := range d.programmes {
		if d.programmes[i].first > on {
			return &d.programmes[i]
		}
	}
	return nil
}

func (t *standing) countdown(q *programme) string {
	return "In " + several(int(q.first-t.day.date), "day") + " the " + q.FirstIs() + " of " + q.look.letter + " " + q.title + "."
}

func (t *standing) space(sizes float64) { t.room = t.room.below(sizes * t.size) }

// need turns the page where what comes does not fit.
func (t *standing) need(height float64) {
	if t.room.h < height {
		t.turn()
	}
}

// say writes a sentence in as many lines as it takes.
func (t *standing) say(text string, size float64) {
	for _, line := range lined(t.sheet().fonts, "", strings.Fields(text), size, t.room.w) {
		t.need(pitch(size))
		t.sheet().write(line, style{size, false, black}, t.room.top(pitch(size)))
		t.room = t.room.below(pitch(size))
	}
}

// row writes a session: box, number, start, what it is, its minutes; below that the
// tempo, what to do and a line for what was reached. A rest is a line across.
func (t *standing) row(r row, l lead) {
	size, f := t.size, t.sheet().fonts
	if r.line.Session == nil {
		t.need(pitch(size))
		s, c := t.sheet(), t.room.top(pitch(size))
		w := s.write("rest "+r.line.Rest.String(), style{size, false, quiet}, c.below(size*0.13).beside(tickWidth*size))
		s.add(line{c.x + (tickWidth+0.6)*size + w, c.y + c.h/2, c.right(), c.y + c.h/2, 0.6, rule})
		t.room = t.room.below(pitch(size))
		return
	}
	v, ratio := r.line.Session, standBars/standText
	words := r.words
	below := []token{}
	for i := range words { // bars and names are the larger ones
		if r.line.Tempo != nil && words[i].text == "at "+r.line.Tempo.String() {
			below = append(below, f.token(words[i].text, true, black))
			words = append(words[:i:i], words[i+1:]...)
			break
		}
	}
	for i := range words {
		kept := words[i].kept
		words[i] = f.token(words[i].text, words[i].ink != quiet, words[i].ink)
		words[i].kept = kept
	}
	below = append(below, f.token(t.d.locale.Doing(r.line), false, black))
	tail := v.Minutes.String()
	if v.Visit != nil && v.Visits != nil {
		tail = visitOf(v) + ", " + tail
	}
	large := size * ratio
	side := large * 0.95 // of the box to tick
	indent := (tickWidth+l.number+l.clock)*size + side*0.3
	end := f.measure(tail, false, 1)*size + size
	wide := t.room.w - indent
	first, lines := wrapped(f, words, wide/large, end/large)
	went := 0.0
	if v.Stage == model.PassageStage {
		went = wentWidth * size
	}
	second, more := wrapped(f, below, (wide-went)/size, 0)
	height := float64(lines+1)*pitch(large) + float64(more+1)*pitch(size) + size*0.25
	t.need(height)
	s, c := t.sheet(), t.room.top(height)
	t.d.box(s, v, box{c.x, c.y + (pitch(large)-side)/2, side, side})
	base := (pitch(large)-large*(ascent+descent))/2 + (large-size)*ascent // on one line with the larger ones
	lead := c.below(base).top(size * 1.1)
	s.write(itoa(r.number), style{size, false, quiet}, lead.beside(tickWidth*size+side*0.3))
	if v.Start != nil {
		s.write(t.d.locale.Clock(*v.Start), style{size, false, black}, lead.beside(tickWidth*size+side*0.3+l.number*size))
	}
	body := c.beside(indent)
	for _, w := range first {
		at := body.below(float64(w.line)*pitch(large) + (pitch(large)-large*(ascent+descent))/2).beside(w.x * large)
		at.w = max(at.w, w.em*large)
		s.write(w.text, style{large, w.bold, w.ink}, at)
	}
	s.writeRight(tail, style{size, false, black}, body.below(base).top(size*1.1))
	low := body.below(float64(lines+1) * pitch(large))
	for _, w := range second {
		at := low.below(float64(w.line)*pitch(size) + size*0.13).beside(w.x * size)
		at.w = max(at.w, w.em*size)
		s.write(w.text, style{size, w.bold, w.ink}, at)
	}
	if went > 0 {
		b := box{c.right() - went + size, low.y + size*0.13, went - size, pitch(size)}
		w := s.write("went at", style{size, false, quiet}, b)
		s.add(line{b.x + w + size*0.3, b.y + size*0.95, b.right(), b.y + size*0.95, 0.6, quiet})
	}
	t.room = t.room.below(height)
}

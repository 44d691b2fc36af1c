package wall

import (
	"bytes"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"primaprova/model"
	"primaprova/model/invent"
)

// filled is a plan of up to so many sessions a day, kept to no rule but that of
// the free hours' grid: a page has to hold whatever comes.
func filled(r *rand.Rand, s *model.Season, most int) *model.Plan {
	p := &model.Plan{From: s.From, To: s.To}
	work := s.Work(nil)
	for d := s.From; d <= s.To; d++ {
		at := model.Clock(9*60 + 30)
		add := func(v model.Session) {
			start := at
			v.Date, v.Start, v.Minutes = d, &start, model.Minutes(5+5*r.IntN(5))
			v.Playing = v.Stage.Playing()
			at += model.Clock(v.Minutes)
			p.Sessions = append(p.Sessions, v)
		}
		w := work[r.IntN(len(work))]
		for n := range r.IntN(most + 1) {
			if n == 0 {
				add(model.Session{ID: model.WarmUpID(d), Stage: model.WarmUpStage})
			}
			if r.IntN(3) == 0 {
				w = work[r.IntN(len(work))]
			}
			if stages := []model.Stage{model.ListeningStage, model.ReadStage, model.RecordingsStage}; r.IntN(6) == 0 || len(w.Passages) == 0 {
				stage := stages[r.IntN(3)]
				add(model.Session{ID: model.StageID(w.Name, stage), Stage: stage, Part: w.Name})
				continue
			}
			ps := w.Passages[r.IntN(len(w.Passages))]
			visits := len(ps.Recipe)
			k := 1 + r.IntN(visits)
			add(model.Session{ID: model.VisitID(ps.Name, k), Stage: model.PassageStage, Part: w.Name, Passage: &ps.Name, Visit: &k, Visits: &visits})
		}
	}
	return p
}

// full is a season as large as the demo's with its fullest days everywhere.
func full() (*model.Season, *model.Plan) {
	s := invent.Season(invent.Demo(3))
	return s, filled(rand.New(rand.NewPCG(1, 1)), s, 22)
}

func laid(t testing.TB, s *model.Season, p *model.Plan, o Options) []*sheet {
	t.Helper()
	f, err := newFonts(nil)
	if err != nil {
		t.Fatal(err)
	}
	sheets, err := lay(f, s, p, nil, o)
	if err != nil {
		t.Fatal(err)
	}
	return sheets
}

// names are as long, as short and as foreign as names may be.
var names = []string{"", "A", "Rapsodi over Skjærgårdsvær, Øyværinger og Ånderøy", "Příliš žluťoučký kůň úpěl ďábelské ódy",
	"Συμφωνία της θάλασσας, ἀνάβασις", "交響曲第三番「潮」", "Llanfairwerthrynwydd-Donaudampfschifffahrtskapellmeisterhausmarsch",
	"Sonata in B♭", "منارة الشمال", "גלי הים", "दीपस्तम्भ", "Wide WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW (Somebody)", "a\u0301 b\tc\nd", "🎻"}

// Every text stays inside its cell and its page, on ground that it can be read
// on, and touches no other text and no line: whatever the season, the plan, the
// paper and the way of writing.
func TestNothingOverflowsOrCollides(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := invent.Grown(rapid.IntRange(1, 12).Draw(t, "weeks"), 0, true, rapid.Uint64().Draw(t, "seed"))
		s := invent.Season(size)
		name := rapid.SampledFrom(names)
		s.Title, s.Instrument = name.Draw(t, "title"), name.Draw(t, "instrument")
		for i := range s.Programmes {
			q := &s.Programmes[i]
			q.Title = name.Draw(t, "programme")
			for j := range q.Parts {
				q.Parts[j].Work = name.Draw(t, "work")
				q.Parts[j].ID = rapid.StringMatching(`[a-z]{1,30}`).Draw(t, "id")
				for k := range q.Parts[j].Passages {
					q.Parts[j].Passages[k].Bars = rapid.SampledFrom([]string{"1-2", "練習番号B 77-99", "IV 1234-1256", "the long place after the pause near the end"}).Draw(t, "bars")
				}
			}
			// Two services a day more, of any kind.
			for range rapid.IntRange(0, 6).Draw(t, "more services") {
				q.Services = append(q.Services, model.Service{Kind: model.ServiceKind(rapid.IntRange(0, 1).Draw(t, "kind")),
					Date: q.FirstRehearsal(), Start: model.Clock(60 * rapid.IntRange(8, 20).Draw(t, "start")), Lasts: 150, Playing: 65})
			}
		}
		p := filled(rand.New(rand.NewPCG(size.Seed, 1)), s, rapid.IntRange(0, 60).Draw(t, "most"))
		l := model.DefaultLocale()
		l.FirstWeekday = time.Weekday(rapid.IntRange(0, 6).Draw(t, "first weekday"))
		l.HalfDays = rapid.Bool().Draw(t, "half days")
		l.Dates = model.DateOrder(rapid.IntRange(0, 2).Draw(t, "dates"))
		if rapid.Bool().Draw(t, "own names") {
			l.Weekdays = []string{"Δευτέρα", "Τρίτη", "Τετάρτη", "Πέμπτη", "Παρασκευή και όλη η ημέρα", "Σάββατο", "Κυριακή"}
			l.Months = []string{"Ιανουάριος", "únor", "mars", "april", "mai", "juni", "juli", "August der Starke von Sachsen", "září", "X", "", "12"}
		}
		l.Paper = rapid.SampledFrom(model.Papers).Draw(t, "paper")
		o := Options{Locale: l, Upright: rapid.Bool().Draw(t, "upright"), Sheets: Sheets, Days: model.Range{From: s.From, To: s.From + model.Date(rapid.IntRange(0, 16).Draw(t, "days"))}}
		f, err := newFonts(nil)
		if err != nil {
			t.Fatal(err)
		}
		sheets, err := lay(f, s, p, nil, o)
		if err != nil {
			t.Fatal(err)
		}
		for _, sh := range sheets {
			for _, fault := range sh.faults() {
				t.Errorf("%s, upright %v, %s: %s", l.Paper, o.Upright, sh.title, fault)
			}
		}
	})
}

// The same, of a season as large as the demo's with its fullest days everywhere,
// on every paper.
func TestFullSeasonFits(t *testing.T) {
	s, p := full()
	for _, paper := range model.Papers {
		for _, upright := range []bool{false, true} {
			l := model.DefaultLocale()
			l.Paper = paper
			for _, sh := range laid(t, s, p, Options{Locale: l, Large: paper, Upright: upright, Sheets: []Sheet{Season, Months, Weeks, Parts}}) {
				for _, fault := range sh.faults() {
					t.Errorf("%s, upright %v, %s: %s", paper, upright, sh.title, fault)
				}
			}
		}
	}
}

// Forty weeks stand on one sheet of A3, A2 and Tabloid, lying and standing.
func TestSeasonOnOneSheet(t *testing.T) {
	s, p := full()
	for _, paper := range []model.Paper{model.A3, model.A2, model.Tabloid} {
		for _, upright := range []bool{false, true} {
			sheets := laid(t, s, p, Options{Locale: model.DefaultLocale(), Large: paper, Upright: upright, Sheets: []Sheet{Season}})
			short, long := paper.Size()
			if upright {
				short, long = long, short
			}
			if len(sheets) != 1 || sheets[0].w != long || sheets[0].h != short {
				t.Errorf("%s, upright %v: %d sheets of %.0f x %.0f", paper, upright, len(sheets), sheets[0].w, sheets[0].h)
			}
		}
	}
}

func TestSameBytes(t *testing.T) {
	s, p := full()
	o := Options{Locale: model.DefaultLocale(), Sheets: Sheets, Days: model.Range{From: s.From, To: s.From + 69}}
	var first, again bytes.Buffer
	for _, b := range []*bytes.Buffer{&first, &again} {
		if _, err := Write(b, s, p, nil, o); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(first.Bytes(), again.Bytes()) {
		t.Error("the same plan gives other bytes")
	}
	if n := first.Len(); n > 1<<20 {
		t.Errorf("ten weeks with all their sheets take %d bytes", n)
	}
}

// k is the scale of a season's sheet.
func (s *sheet) k() float64 { return math.Sqrt(s.page().w * s.page().h / (1138.0 * 790)) }

// The checks above can fail.
func TestFaultsAreFound(t *testing.T) {
	f, err := newFonts(nil)
	if err != nil {
		t.Fatal(err)
	}
	ok := func() *sheet {
		s := &sheet{fonts: f, w: 200, h: 200}
		s.write("tide", style{10, false, black}, box{50, 50, 100, 20})
		return s
	}
	if faults := ok().faults(); len(faults) > 0 {
		t.Fatal(faults)
	}
	at := box{50, 50, 15, 9}
	for name, spoil := range map[string]func(*sheet){
		"cell":     func(s *sheet) { w := s.items[0].(word); w.cell.w = 5; s.items[0] = w },
		"page":     func(s *sheet) { s.w = 60 },
		"width":    func(s *sheet) { w := s.items[0].(word); w.at.w--; s.items[0] = w },
		"text":     func(s *sheet) { s.write("slate", style{10, false, black}, box{55, 52, 100, 20}) },
		"area":     func(s *sheet) { s.add(area{box: at, ink: paper}) },
		"frame":    func(s *sheet) { s.add(frame{box{52, 40, 50, 50}, 1, black, false}) },
		"line":     func(s *sheet) { s.add(line{40, 55, 100, 55, 1, black}) },
		"pattern":  func(s *sheet) { s.add(texture{at, lookOf(model.Look{})}) },
		"contrast": func(s *sheet) { s.items = append([]item{area{box: box{40, 40, 100, 40}, ink: quiet}}, s.items...) },
		"beyond":   func(s *sheet) { s.add(area{box: box{190, 190, 20, 5}, ink: black}) },
	} {
		s := ok()
		spoil(s)
		if len(s.faults()) == 0 {
			t.Errorf("%s: not found", name)
		}
	}
}

// A season longer than a sheet can hold so that it is read goes on on another;
// no week is lost or shown twice.
func TestLongSeasons(t *testing.T) {
	s := invent.Season(invent.Grown(120, 2, true, 1))
	p := filled(rand.New(rand.NewPCG(2, 2)), s, 8)
	l := model.DefaultLocale()
	l.Paper = model.A4
	sheets := laid(t, s, p, Options{Locale: l, Large: model.A4, Sheets: []Sheet{Season, Parts}})
	seasons := 0
	for _, sh := range sheets {
		for _, fault := range sh.faults() {
			t.Errorf("%s: %s", sh.title, fault)
		}
		if sh.title == clean(s.Title) {
			seasons++
		}
	}
	if seasons < 2 || len(sheets) == seasons {
		t.Errorf("%d sheets, %d of them of the season", len(sheets), seasons)
	}
	days := 0
	for _, sh := range sheets[:seasons] {
		for _, i := range sh.items {
			if w, ok := i.(word); ok && w.bold && w.ink == black {
				if n, err := strconv.Atoi(strings.Fields(w.text)[0]); err == nil && n >= 1 && n <= 31 {
					days++
				}
			}
		}
	}
	if days != s.Days() {
		t.Errorf("%d days are shown of %d", days, s.Days())
	}
}

// A box is ticked where the record calls the session done, crossed where it says
// something else, and open where it says nothing; a lost day says what was noted.
func TestBoxesShowTheRecord(t *testing.T) {
	s, p := full()
	lost := s.From + 1
	h := &model.History{Today: s.From, Days: map[model.Date]model.DayNote{lost: model.Lost}, Notes: map[model.Date]string{lost: "a cold"}}
	o := Options{Locale: model.DefaultLocale(), Sheets: []Sheet{Weeks, Stand}, Days: model.Range{From: s.From, To: s.From + 2}, Recorded: map[model.SessionDay]string{}}
	for i := range p.Sessions {
		switch v := &p.Sessions[i]; {
		case v.Date != s.From+2:
		case len(o.Recorded) == 0:
			o.Recorded[v.Key()] = "done"
		case len(o.Recorded) == 1:
			o.Recorded[v.Key()] = "not done"
		}
	}
	f, err := newFonts(nil)
	if err != nil {
		t.Fatal(err)
	}
	sheets, err := lay(f, s, p, h, o)
	if err != nil {
		t.Fatal(err)
	}
	strokes, noted := 0, 0
	for _, sh := range sheets {
		for _, fault := range sh.faults() {
			t.Errorf("%s: %s", sh.title, fault)
		}
		for _, i := range sh.items {
			switch x := i.(type) {
			case line:
				if x.x1 != x.x2 && x.y1 != x.y2 {
					strokes++
				}
			case word:
				if strings.Contains(x.text, "lost: a cold") {
					noted++
				}
			}
		}
	}
	if strokes != 8 || noted != 1 { // the stand has no sheet for a day without anything to do
		t.Errorf("%d strokes in boxes, not 8 of two sessions on two sheets; the note stands %d times, not once", strokes, noted)
	}
}

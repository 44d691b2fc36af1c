package chart

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"image/png"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg/vgimg"
	"pgregory.net/rapid"

	"primaprova/model"
	"primaprova/model/invent"
)

// filled plans a season without any thought: what a part wants stands on the
// days from its arrival, and some of it is left out.
func filled(s *model.Season, leaveOut func() bool) *model.Plan {
	p := &model.Plan{From: s.From, To: s.To}
	played := map[model.Date]model.Minutes{}
	for _, w := range s.Work(nil) {
		at := func(n int) model.Date { return min(w.Window.From+model.Date(n), max(w.Window.From, w.Window.To)) }
		add := func(x model.Session) {
			if x.Part = w.Name; leaveOut() {
				p.Unplaced = append(p.Unplaced, model.Unplaced{ID: x.ID, Stage: x.Stage, Part: x.Part, Minutes: x.Minutes})
				return
			}
			if x.Playing {
				played[x.Date] += x.Minutes
			}
			p.Sessions = append(p.Sessions, x)
		}
		add(model.Session{ID: model.StageID(w.Name, model.ListeningStage), Date: at(0), Minutes: w.Part.Listening, Stage: model.ListeningStage})
		add(model.Session{ID: model.StageID(w.Name, model.ReadStage), Date: at(0), Minutes: w.Part.ReadThrough, Stage: model.ReadStage, Playing: true})
		for _, ps := range w.Passages {
			for k, v := range ps.Recipe {
				add(model.Session{ID: model.VisitID(ps.Name, k+1), Date: at(1 + 3*k), Minutes: v.Minutes, Stage: model.PassageStage, Playing: true})
			}
		}
		if m := w.Part.Recordings; m > 0 {
			add(model.Session{ID: model.StageID(w.Name, model.RecordingsStage), Date: w.Window.To, Minutes: m, Stage: model.RecordingsStage})
		}
	}
	for d := s.From; d <= s.To; d++ {
		r := s.RoomOn(d)
		p.Days = append(p.Days, model.Day{Date: d, Cap: r.Cap, Services: r.Services, Planned: played[d], Rest: r.Rest})
	}
	return p
}

// sometimes says yes once in n times, by chance.
func sometimes(t *rapid.T, n int) func() bool {
	r := rand.New(rand.NewPCG(1, rapid.Uint64Max(99).Draw(t, "chance")))
	return func() bool { return r.IntN(n) == 0 }
}

func drawn(t *testing.T, s *model.Season, p *model.Plan, o Options) []byte {
	t.Helper()
	var b bytes.Buffer
	if _, err := Write(&b, s, p, nil, o); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func season(weeks, programmes int) *model.Season {
	return invent.Season(invent.Size{Weeks: weeks, Programmes: programmes, Parts: 4, Passages: 6, Lead: 30, Tightness: 0.5, Off: 0.1, Seed: 3})
}

func TestTheSamePlanGivesTheSameBytes(t *testing.T) {
	s := season(8, 2)
	p := filled(s, func() bool { return false })
	for _, f := range []Format{SVG, PNG} {
		o := Options{Format: f, Locale: model.DefaultLocale()}
		if !bytes.Equal(drawn(t, s, p, o), drawn(t, s, p, o)) {
			t.Errorf("%s: two drawings differ", f)
		}
	}
}

// An SVG is well-formed, carries its typeface, asks for nothing from elsewhere,
// and its text can be found.
func TestSVG(t *testing.T) {
	s := season(40, 12)
	s.Title = `Tide & <"tables">`
	svg := drawn(t, s, filled(s, func() bool { return false }), Options{Format: SVG, Locale: model.DefaultLocale()})
	words, style := "", ""
	dec := xml.NewDecoder(bytes.NewReader(svg))
	for in := []string{}; ; {
		token, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		switch x := token.(type) {
		case xml.StartElement:
			in = append(in, x.Name.Local)
			for _, a := range x.Attr {
				if a.Name.Local == "href" || a.Name.Local == "src" {
					t.Errorf("%s asks for %s", x.Name.Local, a.Value)
				}
			}
		case xml.EndElement:
			in = in[:len(in)-1]
		case xml.CharData:
			if slices.Contains(in, "text") {
				words += string(x) + "\n"
			}
			if slices.Contains(in, "style") {
				style += string(x)
			}
		}
	}
	wanted := []string{s.Title, "Playing by day, hours", "From arrival to ready", "Feb"}
	for i := range s.Programmes {
		wanted = append(wanted, s.Programmes[i].Title, s.Programmes[i].Parts[0].Work)
	}
	for _, w := range wanted {
		if !strings.Contains(words, w) {
			t.Errorf("the text lacks %q", w)
		}
	}
	if n := strings.Count(style, "@font-face"); n != 2 {
		t.Errorf("%d faces are embedded, not 2", n)
	}
	if strings.Count(style, "url(") != strings.Count(style, "url(data:") {
		t.Error("a face comes from elsewhere")
	}
}

func TestPNG(t *testing.T) {
	s := season(6, 1)
	img, err := png.Decode(bytes.NewReader(drawn(t, s, filled(s, func() bool { return false }), Options{Format: PNG, Panels: []Panel{Margins}, Locale: model.DefaultLocale()})))
	if err != nil {
		t.Fatal(err)
	}
	if got := img.Bounds().Dx(); got != int(pageWidth/72*dotsPerInch) {
		t.Errorf("%d dots wide", got)
	}
}

func TestAnUnknownFormatIsAFault(t *testing.T) {
	if _, err := Write(io.Discard, season(4, 1), &model.Plan{}, nil, Options{Format: "gif"}); err == nil {
		t.Error("gif is taken")
	}
}

// Whatever the season and the names in it, every text stands on the page and
// none touches another.
func TestTextsKeepApart(t *testing.T) {
	name := rapid.OneOf(rapid.StringMatching(`[A-ZÆØÅa-zæøå]{1,12}( [a-zæøå]{1,20}){0,12}`), rapid.StringMatching(`[Α-Ωα-ω]{1,60}`),
		rapid.StringMatching(`[A-ZŽa-zěščřžýů]{1,80}`), rapid.StringMatching(`[一-十ぁ-ん]{1,30}`), rapid.Just(""))
	locale := rapid.Custom(func(t *rapid.T) model.Locale {
		l := model.DefaultLocale()
		l.Dates = rapid.SampledFrom([]model.DateOrder{model.DayMonth, model.MonthDay, model.ISODates}).Draw(t, "dates")
		l.FirstWeekday = 0
		if rapid.Bool().Draw(t, "long names") {
			l.Months = strings.Fields("januaryyyyyyyy februaryyyyyyyy march april may june july august september october november december")
		}
		return l
	})
	rapid.Check(t, func(t *rapid.T) {
		weeks := rapid.SampledFrom([]int{1, 2, 5, 11, 20, 52, 104}).Draw(t, "weeks")
		s := invent.Season(invent.Size{Weeks: max(4, weeks), Programmes: rapid.IntRange(1, 6).Draw(t, "programmes"), Parts: 2, Passages: 2, Lead: 25,
			Tightness: 0.4, Late: 0.3, Off: 0.1, Seed: rapid.Uint64Max(9).Draw(t, "seed")})
		s.Title = name.Draw(t, "title")
		for i := range s.Programmes {
			s.Programmes[i].Title = name.Draw(t, "programme")
			for j := range s.Programmes[i].Parts {
				s.Programmes[i].Parts[j].Work = name.Draw(t, "work")
			}
		}
		s.To = max(s.From+6, s.From+model.Date(7*weeks-1))
		p := filled(s, sometimes(t, 10))
		o := Options{Locale: locale.Draw(t, "locale"), Chances: map[string]float64{}}
		for _, w := range s.Work(nil) {
			if rapid.IntRange(0, 3).Draw(t, "known") > 0 {
				o.Chances[w.Name] = rapid.Float64Range(0, 1).Draw(t, "chance of a part")
			}
		}
		l := &letters{viewed(t).glyphs, rapid.Bool().Draw(t, "viewer"), map[rune]bool{}}
		d := gather(s, p, nil, o, l)
		sheet, err := sheetOf(d, l)
		if err != nil {
			t.Fatal(err)
		}
		for i, a := range sheet.texts {
			if a.left < 0 || a.right > pageWidth || a.top < 0 || a.y > sheet.height || math.IsNaN(float64(a.left)) {
				t.Errorf("%q stands at %.1f..%.1f, %.1f on a page of %.1f x %.1f", a.text, a.left, a.right, a.y, pageWidth, sheet.height)
			}
			for _, b := range sheet.texts[:i] {
				if a.left < b.right && b.left < a.right && a.top < b.y-.5 && b.top < a.y-.5 {
					t.Errorf("%q at %.1f..%.1f, %.1f touches %q at %.1f..%.1f, %.1f", a.text, a.left, a.right, a.y, b.text, b.left, b.right, b.y)
				}
			}
		}
	})
}

// viewed are the letters of an SVG.
func viewed(t interface{ Fatal(...any) }) *letters {
	l, err := newLetters(true)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// sheetOf draws without writing.
func sheetOf(d *data, l *letters) (*sheet, error) {
	panels := chosen(d, nil)
	height := top + foot
	for _, x := range panels {
		height += x.height + gap
	}
	s, err := newSheet(vgimg.NewWith(vgimg.UseWH(pageWidth, height), vgimg.UseDPI(8)), height, l)
	if err == nil {
		s.season(d, panels)
	}
	return s, err
}

// Names that the typeface cannot draw stand in an SVG as they are, in a language that
// nobody has told, for the viewer to draw. Elsewhere ids stand in their place, also of
// letters that would have to be joined or turned; they are told, and nothing else is.
func TestNamesInAnyScript(t *testing.T) {
	s := season(6, 1)
	s.Title = "Øst for Skjærgården, Příliš žluťoučký, Συμφωνία, e\u0301tude"
	p := filled(s, func() bool { return false })
	for _, f := range Formats {
		if missing, err := Write(io.Discard, s, p, nil, Options{Format: f, Locale: model.DefaultLocale()}); err != nil || len(missing) > 0 {
			t.Errorf("%s: missing %q, %v", f, missing, err)
		}
	}
	q := &s.Programmes[0]
	q.ID, q.Title, q.Parts[0].ID, q.Parts[0].Work = "slab", "石板の海 石", "light", "منارة الشمال"
	p = filled(s, func() bool { return false })
	o := Options{Format: SVG, Locale: model.DefaultLocale()}
	var b bytes.Buffer
	missing, err := Write(&b, s, p, nil, o)
	if err != nil || len(missing) > 0 || !strings.Contains(b.String(), ` xml:lang="">منارة الشمال</text>`) || !strings.Contains(b.String(), q.Title) || !strings.Contains(b.String(), ` xml:lang="en">`) {
		t.Errorf("missing %q, %v, or the names are not there", string(missing), err)
	}
	if strings.Contains(b.String(), "\ufdd0") || strings.Count(b.String(), `xml:lang=""`) < 3 {
		t.Error("a mark of ours is left, or a name is not marked")
	}
	o.Format = PDF
	missing, err = Write(io.Discard, s, p, nil, o)
	if want := "ا ل م ن ر ش ة"; err != nil || !slices.Contains(missing, 'ش') || !slices.Contains(missing, '石') || slices.Contains(missing, '?') {
		t.Errorf("missing %q, %v; among them should be %s", string(missing), err, want)
	}
	l, err := newLetters(false)
	if err != nil {
		t.Fatal(err)
	}
	if d := gather(s, p, nil, o, l); d.programmes[0].title != "slab" || d.programmes[0].parts[0].work != "light" {
		t.Errorf("%q, %q", d.programmes[0].title, d.programmes[0].parts[0].work)
	}
}

func TestWeeksAndMarginsAreThoseOfThePlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := season(rapid.IntRange(4, 12).Draw(t, "weeks"), 2)
		p := filled(s, sometimes(t, 5))
		d := gather(s, p, nil, Options{Locale: model.DefaultLocale()}, viewed(t))
		var days, weeks [2]model.Minutes // services apart: those are rounded once, for a day or for a week
		for _, x := range d.days {
			days = [2]model.Minutes{days[0] + x.WarmUp + x.Planned, days[1] + x.Most}
		}
		for _, w := range d.weeks {
			weeks = [2]model.Minutes{weeks[0] + w.WarmUp + w.Planned, weeks[1] + w.Most}
		}
		if days != weeks {
			t.Errorf("days sum to %v, weeks to %v", days, weeks)
		}
		out := 0
		for i := range d.programmes {
			g := &d.programmes[i]
			out += g.leftOut
			var last model.Date
			for _, u := range p.Unplaced {
				if strings.HasPrefix(u.Part, s.Programmes[i].ID+"/") && u.Stage != model.RecordingsStage {
					last = s.Programmes[i].FirstRehearsal() // it is never ready: nothing to spare
				}
			}
			for _, x := range p.Sessions {
				if strings.HasPrefix(x.Part, s.Programmes[i].ID+"/") && (x.Stage == model.PassageStage || x.Stage == model.ReadStage) {
					last = max(last, x.Date)
				}
			}
			if want := max(0, int(s.Programmes[i].FirstRehearsal()-last)); last != 0 && g.margin() != want {
				t.Errorf("%s: %d days to spare, not %d", g.title, g.margin(), want)
			}
		}
		if out != len(p.Unplaced) {
			t.Errorf("%d left out, not %d", out, len(p.Unplaced))
		}
	})
}

func TestHourSteps(t *testing.T) {
	for m := model.Minutes(1); m < 20000; m++ {
		if step := hourStep(m); step%30 != 0 || m > 5*step || step > 60 && step < 1200 && m < step {
			t.Fatalf("steps of %s up to %s", step, m)
		}
	}
	if len(Panels) != 5 {
		t.Error("a panel more: say so in the README")
	}
}

func TestChancesAreDrawnWhereThereAreAny(t *testing.T) {
	s := season(8, 2)
	p := filled(s, func() bool { return false })
	part := s.Work(nil)[1].Name
	for _, c := range []struct {
		chances map[string]float64
		want    string // in the picture; empty: the panel is not there
	}{{nil, ""}, {map[string]float64{part: 0.874}, ">87 %<"}, {map[string]float64{part: 1}, ">over 99 %<"}, {map[string]float64{part: 0}, ">under 1 %<"}} {
		svg := string(drawn(t, s, p, Options{Format: SVG, Locale: model.DefaultLocale(), Chances: c.chances}))
		if strings.Contains(svg, "Chance to be ready") != (c.want != "") || !strings.Contains(svg, c.want) {
			t.Errorf("%v: the picture has no %q", c.chances, c.want)
		}
		if c.want != "" && strings.Count(svg, "nothing lies ahead") != 1 { // for the other programme
			t.Errorf("%v: a programme without chances is not told from one with", c.chances)
		}
	}
}

// Two independent programs open the PDF: pikepdf (qpdf) finds it sound and its
// faces embedded, pypdfium2 finds its size, within half a point of ISO 216 and
// ANSI, and the same text that was written.
func TestPDF(t *testing.T) {
	s := season(40, 12)
	s.Title = "Čtyři moře, Συμφωνία, Skjærgård"
	folder, sizes := t.TempDir(), map[model.Paper][2]float64{model.A4: {595.276, 841.890}, model.A3: {841.890, 1190.551}, model.Tabloid: {792, 1224}}
	for paper, size := range sizes {
		l := model.DefaultLocale()
		l.Paper = paper
		o := Options{Format: PDF, Locale: l}
		pdf := drawn(t, s, filled(s, func() bool { return false }), o)
		if again := drawn(t, s, filled(s, func() bool { return false }), o); !bytes.Equal(pdf, again) {
			t.Errorf("%s: drawn again it differs", paper)
		}
		if len(pdf) > 200_000 {
			t.Errorf("%s: %d bytes", paper, len(pdf))
		}
		path := filepath.Join(folder, string(paper)+".pdf")
		if err := os.WriteFile(path, pdf, 0o600); err != nil {
			t.Fatal(err)
		}
		got := opened(t, path)
		if len(got.Faults) > 0 || got.Pages != 1 || got.Loose > 0 || got.Embedded == 0 {
			t.Errorf("%s: %+v", paper, got)
		}
		slices.Sort(got.Size[:]) // it may lie or stand
		if math.Abs(got.Size[0]-size[0]) > 0.5 || math.Abs(got.Size[1]-size[1]) > 0.5 {
			t.Errorf("%s: the page is %v", paper, got.Size)
		}
		for _, want := range []string{s.Title, "From arrival to ready", s.Programmes[11].Title, s.Programmes[0].Parts[0].Work} {
			if !strings.Contains(got.Text, want) {
				t.Errorf("%s: the text lacks %q", paper, want)
			}
		}
	}
}

// paged is what the two programs say of a file.
type paged struct {
	Faults          []string   `json:"faults"`
	Pages           int        `json:"pages"`
	Embedded, Loose int        // faces
	Size            [2]float64 `json:"size"`
	Text            string     `json:"text"`
}

func opened(t *testing.T, path string) (out paged) {
	t.Helper()
	where, err := filepath.Abs("../../.deps/python")
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command("python3", "-c", `import json, sys, pikepdf, pypdfium2
out = {"Embedded": 0, "Loose": 0}
with pikepdf.open(sys.argv[1]) as f:
    out["faults"], out["pages"] = list(f.check_pdf_syntax() if hasattr(f, "check_pdf_syntax") else f.check()), len(f.pages)
    for o in f.objects:
        if isinstance(o, pikepdf.Dictionary) and o.get("/Type") == "/FontDescriptor":
            out["Embedded" if "/FontFile2" in o else "Loose"] += 1
page = pypdfium2.PdfDocument(sys.argv[1])[0]
out["size"], out["text"] = page.get_size(), page.get_textpage().get_text_bounded()
json.dump(out, sys.stdout)`, path)
	c.Env = append(os.Environ(), "PYTHONPATH="+where, "PYTHONDONTWRITEBYTECODE=1")
	c.Stderr = os.Stderr
	b, err := c.Output()
	if err != nil {
		t.Fatalf("%v; the readers come with: make deps", err)
	}
	if err := json.Unmarshal(b, &out); err != nil {
		t.Fatal(err)
	}
	return out
}

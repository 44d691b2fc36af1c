package wall

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"primaprova/model"
)

type file struct {
	Path     string       `json:"path"`
	Boxes    [][5]float64 `json:"boxes"`
	Pictures [][5]float64 `json:"pictures"`
}

// found is what two programs with no code of ours see in a file (sheets.py).
type found struct {
	Faults   []string       `json:"faults"`
	Fonts    map[string]int `json:"fonts"`
	Images   int            `json:"images"`
	Sizes    [][2]float64   `json:"sizes"`
	Texts    []string       `json:"texts"`
	Least    []float64      `json:"least"`
	Boxes    []string       `json:"boxes"`
	Pictures [][][]int      `json:"pictures"`
}

func read(t *testing.T, files ...file) []found {
	t.Helper()
	where, err := filepath.Abs(filepath.Join("..", "..", ".deps", "python"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(where, "pikepdf")); err != nil {
		t.Fatal("the independent readers are not there; fetch them with: make deps")
	}
	in, err := json.Marshal(map[string]any{"files": files})
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("python3", filepath.Join("..", "..", "testdata", "python", "sheets.py"))
	cmd.Env = append(os.Environ(), "PYTHONPATH="+where, "PYTHONDONTWRITEBYTECODE=1")
	cmd.Stdin = bytes.NewReader(in)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("sheets.py: %v\n%s", err, stderr.String())
	}
	var answer struct {
		Files []found `json:"files"`
	}
	if err := json.Unmarshal(out, &answer); err != nil {
		t.Fatal(err)
	}
	return answer.Files
}

// written writes a plan into a file of the test's own.
func written(t *testing.T, s *model.Season, p *model.Plan, o Options) string {
	t.Helper()
	var b bytes.Buffer
	if _, err := Write(&b, s, p, nil, o); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "wall.pdf")
	if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// Sizes in points: ISO 216 and ANSI/ASME Y14.1, as published; within half a point.
var sizes = map[model.Paper][2]float64{
	model.A4: {595.276, 841.890}, model.A3: {841.890, 1190.551}, model.A2: {1190.551, 1683.780},
	model.Letter: {612, 792}, model.Tabloid: {792, 1224},
}

// Every paper, lying and standing: no fault in the file, the right size, each
// font embedded in part, no pictures.
func TestFilesAreSound(t *testing.T) {
	s, p := full()
	var files []file
	var want [][2]float64
	for _, paper := range model.Papers {
		for _, upright := range []bool{false, true} {
			l := model.DefaultLocale()
			l.Paper = paper
			days, all := model.Range{From: s.From, To: s.From + 20}, Sheets
			if !upright { // sheets for the stand always stand
				all = slices.DeleteFunc(slices.Clone(Sheets), func(k Sheet) bool { return k == Stand })
			}
			files = append(files, file{Path: written(t, s, p, Options{Locale: l, Large: paper, Upright: upright, Sheets: all, Days: days})})
			short, long := sizes[paper][0], sizes[paper][1]
			if upright {
				want = append(want, [2]float64{short, long})
			} else {
				want = append(want, [2]float64{long, short})
			}
		}
	}
	for i, f := range read(t, files...) {
		if len(f.Faults) > 0 {
			t.Errorf("file %d: %s", i, strings.Join(f.Faults, "; "))
		}
		if len(f.Sizes) < 3 || f.Images > 0 {
			t.Errorf("file %d: %d pages, %d pictures", i, len(f.Sizes), f.Images)
		}
		for _, size := range f.Sizes {
			if math.Abs(size[0]-want[i][0]) > 0.5 || math.Abs(size[1]-want[i][1]) > 0.5 {
				t.Errorf("file %d: a page of %v, want %v", i, size, want[i])
			}
		}
		for name, n := range f.Fonts {
			if n < 1000 || n > 60000 {
				t.Errorf("file %d: %d bytes of %s are embedded", i, n, name)
			}
		}
		if len(f.Fonts) < 2 {
			t.Errorf("file %d: fonts %v", i, f.Fonts)
		}
	}
}

// Another program finds every text in its own cell, and on each page exactly the
// words that were put there.
func TestTextsAreRead(t *testing.T) {
	s, p := full()
	s.Title = "Příliš žluťoučký: Ærlig Øvelse på Skjæret"
	s.Programmes[0].Title = "Θάλασσα, ἀνάβασις"
	s.Programmes[1].Title = "Sonata in B♭"
	o := Options{Locale: model.DefaultLocale(), Sheets: Sheets, Days: model.Range{From: s.From, To: s.From + 40}}
	f := file{Path: written(t, s, p, o)}
	sheets := laid(t, s, p, o)
	var words []word
	for n, sh := range sheets {
		for _, i := range sh.items {
			if w, ok := i.(word); ok {
				c := w.cell
				words = append(words, w)
				f.Boxes = append(f.Boxes, [5]float64{float64(n), c.x - 0.3, c.y - 0.3, c.right() + 0.3, c.bottom() + 0.3})
			}
		}
	}
	got := read(t, f)[0]
	for i, w := range words {
		if !strings.Contains(joined(got.Boxes[i]), joined(w.text)) {
			t.Errorf("%q is not read in its cell but %q", w.text, got.Boxes[i])
		}
	}
	for n, sh := range sheets {
		var want []rune
		for _, i := range sh.items {
			if w, ok := i.(word); ok {
				want = append(want, []rune(joined(w.text))...)
			}
		}
		read := []rune(joined(got.Texts[n]))
		slices.Sort(want)
		slices.Sort(read)
		if string(want) != string(read) {
			t.Errorf("%s: other letters are read than were written:\n%s\n%s", sh.title, string(want), string(read))
		}
	}
}

// joined leaves all blanks away: readers put them where they think best.
func joined(s string) string { return strings.Join(strings.Fields(s), "") }

// Every session of the plan is read from its day's columns of the week's sheets, in
// order: number, start, part, passage or stage, tempo, visit of visits, minutes; and
// every rest. No letter on any sheet is under 7.5 points.
func TestWeekHoldsThePlan(t *testing.T) {
	s, p := full()
	for i := range s.Programmes {
		for j := range s.Programmes[i].Parts {
			for k := range s.Programmes[i].Parts[j].Passages {
				s.Programmes[i].Parts[j].Passages[k].Tempo.Goal = model.Tempo(40 + 3*k)
			}
		}
	}
	days := model.Range{From: s.From, To: s.From + 27}
	o := Options{Locale: model.DefaultLocale(), Sheets: []Sheet{Weeks}, Days: days}
	f := file{Path: written(t, s, p, o)}
	date := s.From.Monday()
	var dates []model.Date
	for n, sh := range laid(t, s, p, o) {
		var above frame
		for i, x := range sh.items { // the frame of a column, then its weekday, then its date
			if c, ok := x.(frame); ok && c.ink == rule && c.h > 100 {
				above = c
				if w := sh.items[i+2].(word); !strings.Contains(w.text, "continued") && len(dates) > 0 {
					date++
				}
				dates = append(dates, date)
				f.Boxes = append(f.Boxes, [5]float64{float64(n), above.x, above.y, above.right(), above.bottom()})
			}
		}
	}
	got := read(t, f)[0]
	texts := map[model.Date]string{}
	for i, d := range dates {
		texts[d] += joined(got.Boxes[i])
	}
	sheets, sessions, rests, tempos := s.View(p, nil), 0, 0, 0
	for d := days.From; d <= days.To; d++ {
		text, n := texts[d], 0
		for _, l := range sheets.Sheet(d).Lines {
			want := []string{"rest" + l.Rest.String()}
			if v := l.Session; v == nil {
				rests++
			} else {
				n++
				sessions++
				want = []string{itoa(n) + v.Start.String(), string(v.Stage), itoa(int(v.Minutes))}
				if v.Passage != nil {
					id := (*v.Passage)[strings.LastIndexByte(*v.Passage, '/')+1:]
					want = []string{itoa(n) + v.Start.String(), id, itoa(*v.Visit) + "/" + itoa(*v.Visits) + itoa(int(v.Minutes))}
				}
				if l.Tempo != nil {
					tempos++
					want = append(want, "at"+joined(l.Tempo.String()))
				}
			}
			end := 0
			for _, w := range want { // the tail stands at the end of a row's first line
				at := strings.Index(text, joined(w))
				if at < 0 || at > 90 {
					t.Fatalf("%s, %d: %q is not read in its row; left: %.120q", d, n, w, text)
				}
				end = max(end, at)
			}
			text = text[end:]
		}
	}
	if sessions < 100 || rests < 20 || tempos < 50 {
		t.Errorf("only %d sessions, %d rests, %d tempos were looked for", sessions, rests, tempos)
	}
	for n, size := range got.Least {
		if size < leastText-0.01 {
			t.Errorf("sheet %d has letters of %.2f points", n, size)
		}
	}
}

// In black and white print, eleven programmes running are told apart by their
// patterns: however two of them are laid over each other, a sixth of the dots
// differ. (Common practice, no source.)
func TestPatternsInBlackAndWhite(t *testing.T) {
	s, p := full()
	o := Options{Locale: model.DefaultLocale(), Sheets: []Sheet{Season}}
	f := file{Path: written(t, s, p, o)}
	sh := laid(t, s, p, o)[0]
	var looks []look
	for _, i := range sh.items {
		if x, ok := i.(texture); ok && math.Abs(x.w-9*sh.k()*3.2) < 0.01 && x.look.tone != black {
			f.Pictures = append(f.Pictures, [5]float64{0, x.x + 1, x.y + 1, x.right() - 1, x.bottom() - 1})
			looks = append(looks, x.look)
		}
	}
	if len(looks) != len(s.Programmes) {
		t.Fatalf("%d swatches for %d programmes", len(looks), len(s.Programmes))
	}
	got := read(t, f)[0].Pictures
	for i := range got {
		for j := max(0, i-len(model.Patterns)+1); j < i; j++ {
			if d := differing(got[i], got[j]); d < 1.0/6 {
				t.Errorf("%s and %s differ in %.0f %% of dots", looks[i].letter, looks[j].letter, 100*d)
			}
		}
	}
}

// differing gives the share of dots that differ, where two pictures lie on each
// other best.
func differing(a, b [][]int) float64 {
	least := 1.0
	for dy := -6; dy <= 6; dy++ {
		for dx := -6; dx <= 6; dx++ {
			n, other := 0, 0
			for y := range a {
				for x := range a[y] {
					if y+dy >= 0 && y+dy < len(b) && x+dx >= 0 && x+dx < len(b[y+dy]) {
						n++
						other += a[y][x] ^ b[y+dy][x+dx]
					}
				}
			}
			least = min(least, float64(other)/float64(n))
		}
	}
	return least
}

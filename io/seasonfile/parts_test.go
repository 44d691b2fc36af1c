package seasonfile

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"primaprova/model"
)

func TestPartsFromTable(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{
		"season.yaml": `title: T
time_zone: Europe/Oslo
from: 2027-03-01
to: 2027-03-21
habits: {listening: 25 min}
programmes:
  - id: tide
    services: [{rehearsal: 2027-03-12 10:00, lasts: 150 min}]
    parts: [{id: first, arrives: 2027-03-01, estimate: 60 min}]
    parts_from: parts.csv
  - id: thaw
    services: [{rehearsal: 2027-03-19 10:00, lasts: 150 min}]
    parts_from: parts.csv
`,
		// As a spreadsheet writes it: a byte order mark, semicolons, quotes, CRLF.
		"parts.csv": strings.ReplaceAll("\ufeffprogramme;id;work;arrives;estimate;listening\n"+
			"tide;slate;\"Slate; a symphony\";2027-03-02;1 h 30 min;80\n"+
			"thaw;ice;Ice;2027-03-06;60 min;\n\n"+
			"tide;ferry;Ferry \"\"Waltz\"\";2027-03-03;45 min;0 min\n", "\n", "\r\n"),
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(strings.Replace(text, `Ferry ""Waltz""`, `"Ferry ""Waltz"""`, 1)), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	f, err := Read(filepath.Join(dir, "season.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	part := func(id, work string, day int, listening, estimate model.Minutes) model.Part {
		return model.Part{ID: id, Work: work, Arrives: model.NewDate(2027, 3, day), Listening: listening, ReadThrough: 30, Recordings: 20, Estimate: estimate}
	}
	want := [][]model.Part{
		{part("first", "first", 1, 25, 60), part("slate", "Slate; a symphony", 2, 80, 90), part("ferry", `Ferry "Waltz"`, 3, 0, 45)},
		{part("ice", "Ice", 6, 25, 60)},
	}
	for i, w := range want {
		if got := f.Season.Programmes[i].Parts; !same(got, w) {
			t.Errorf("parts of programme %d:\n%+v, want\n%+v", i, got, w)
		}
	}
	if p := f.Place("programmes[0].parts[2].arrives"); filepath.Base(p.File) != "parts.csv" || p.Line != 5 {
		t.Errorf("the ferry's arrival stands in %s:%d", p.File, p.Line)
	}
}

func TestPassagesAreNamedByTheirBars(t *testing.T) {
	ps := []model.Passage{{Bars: "45-61"}, {Bars: "II 45–61"}, {Bars: "45-61"}, {ID: "45-61-2", Bars: "9"}, {Bars: "45-61"},
		{Bars: "[C] to D."}, {Bars: strings.Repeat("1", 80)}, {Bars: strings.Repeat("1", 81)}}
	nameByBars(ps)
	want := []string{"45-61", "II-45-61", "45-61-3", "45-61-2", "45-61-4", "C-to-D", strings.Repeat("1", 44), strings.Repeat("1", 44) + "-2"}
	for i, p := range ps {
		if p.ID != want[i] || !idForm.MatchString(p.ID) {
			t.Errorf("%q is named %q, want %q", p.Bars, p.ID, want[i])
		}
	}
}

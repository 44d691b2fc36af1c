package seasonfile

import (
	"errors"
	"os"
	"slices"
	"strings"
	"testing"

	"go.yaml.in/yaml/v3"
)

// TestPlaces reads a file with everything that makes columns and bytes differ,
// and takes each value out of the bytes where its place says it stands.
func TestPlaces(t *testing.T) {
	text := "\ufefftitle: \"Brinemouth \\\"æøå\\\"\"   # ø\r\n" +
		"time_zone: Europe/Oslo\r\n" +
		"instrument: 'bass''s'\r\n" +
		"from: 2027-03-01\u2028to: 2027-03-21\n" +
		"limits: {playing: {every day: 60 min, saturday: 45 min}, rest_days: [monday]}\n" +
		"programmes:\n" +
		"  - {id: på, title: Høst, services: [{rehearsal: 2027-03-12 10:00, lasts: 150 min}], parts: [\n" +
		"     {id: a, work: Wærk — 1, arrives: 2027-03-01, passages: [{bars: 1-8, hard: 1}]}]}\n"
	text = strings.Replace(text, "id: på", "id: p", 1)
	f, err := Parse("places.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]string{
		"title":                           `"Brinemouth \"æøå\""`,
		"instrument":                      "'bass''s'",
		"from":                            "2027-03-01",
		"to":                              "2027-03-21",
		"limits.playing.every day":        "60 min",
		"limits.playing.saturday":         "45 min",
		"limits.rest_days[0]":             "monday",
		"programmes[0].title":             "Høst",
		"programmes[0].services[0].lasts": "150 min",
		"programmes[0].parts[0].work":     "Wærk — 1",
		"programmes[0].parts[0].arrives":  "2027-03-01",
		"programmes[0].parts[0].passages[0].bars":   "1-8",
		"programmes[0].parts[0].passages[0].hard":   "1",
		"programmes[0].parts[0].passages[0].absent": "{", // what holds it
	} {
		p := f.Place(path)
		end := p.End
		if end < 0 {
			end = p.Offset + 1
		}
		if got := text[p.Offset:end]; got != want {
			t.Errorf("%s stands at %q, want %q", path, got, want)
		}
	}
	if p := f.Place("nowhere"); p.Line != 1 {
		t.Errorf("what is nowhere stands in line %d", p.Line)
	}
}

// TestEveryScalarStandsWhereItSays goes through whole seasons.
func TestEveryScalarStandsWhereItSays(t *testing.T) {
	for _, name := range []string{"../../testdata/seasons/small.yaml", "../../testdata/seasons/demo/season.yaml"} {
		f, err := Read(name)
		if err != nil {
			t.Fatal(err)
		}
		scalars := 0
		for path, p := range f.Places {
			if p.End < 0 {
				continue
			}
			scalars++
			var got yaml.Node
			if err := yaml.Unmarshal(f.Source[p.Offset:p.End], &got); err != nil || got.Content[0].Kind != yaml.ScalarNode {
				t.Errorf("%s:%d: %s stands at %q", name, p.Line, path, f.Source[p.Offset:p.End])
			}
			before := string(f.Source[:p.Offset])
			if strings.Count(before, "\n")+1 != p.Line || !strings.ContainsAny(before[len(before)-2:], " [") {
				t.Errorf("%s:%d: %s stands after %q", name, p.Line, path, before[max(0, len(before)-20):])
			}
		}
		if scalars < 50 {
			t.Errorf("%s has %d scalars", name, scalars)
		}
	}
}

// TestALongLine: values are found in time even when the file is one line.
func TestALongLine(t *testing.T) {
	var b strings.Builder
	b.WriteString("{title: x, programmes: [")
	for b.Len() < MostBytes-100 {
		b.WriteString("{id: a, services: [{rehearsal: 2028-03-12 10:00}]}, ")
	}
	b.WriteString("]}")
	_, err := Parse("long.yaml", []byte(b.String()))
	var faults Errors
	if !errors.As(err, &faults) || !slices.ContainsFunc(faults, func(f Fault) bool { return f.Path == "programmes[20000].services[0].lasts" }) {
		t.Errorf("said %.100v", err)
	}
	if lines := strings.Split(err.Error(), "\n"); len(lines) > 3*mostFaults || !strings.HasSuffix(lines[len(lines)-1], "faults more") {
		t.Errorf("%d lines, at the end %q", len(lines), lines[len(lines)-1])
	}
}

func TestLinesOfYAML(t *testing.T) {
	b, err := os.ReadFile("../../testdata/seasons/small.yaml")
	if err != nil {
		t.Fatal(err)
	}
	if got, want := len(newText(b).lines), strings.Count(string(b), "\n")+1; got != want {
		t.Errorf("%d lines, want %d", got, want)
	}
	if got := len(newText([]byte("a\r\nb\rc\nd\u0085e\u2028f\u2029g")).lines); got != 7 {
		t.Errorf("%d lines, want 7", got)
	}
}

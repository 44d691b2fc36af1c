package seasonfile

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"primaprova/model"
)

// laid puts files into a folder and reads the season among them.
func laid(t interface {
	Helper()
	Fatal(...any)
}, dir string, files map[string]string) (*File, error) {
	t.Helper()
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return Read(filepath.Join(dir, "season.yaml"))
}

const tabled = head + "programmes:\n  - id: p   # from a table\n    services: [{rehearsal: 2027-03-30 10:00, lasts: 60 min}]\n    parts_from: parts.csv\n"

// TestArrivalsInTables changes dates in tables of every layout the reader
// takes: all other bytes stay, and the season is the wanted one.
func TestArrivalsInTables(t *testing.T) {
	dir := t.TempDir()
	rapid.Check(t, func(t *rapid.T) {
		separator := rapid.SampledFrom([]string{",", ";", "\t"}).Draw(t, "separator")
		end := rapid.SampledFrom([]string{"\n", "\r\n"}).Draw(t, "line end")
		blank := rapid.SampledFrom([]string{"", " "})
		cell := func(text string) string {
			if rapid.Bool().Draw(t, "quoted") {
				if separator == "\t" { // a blank before it would be the cell's own
					return `"` + text + `"`
				}
				return blank.Draw(t, "before") + `"` + text + `"`
			}
			return blank.Draw(t, "before") + text + blank.Draw(t, "after")
		}
		columns := rapid.Permutation([]string{"id", "work", "arrives"}).Draw(t, "columns")
		n := rapid.IntRange(1, 4).Draw(t, "rows")
		which := rapid.IntRange(0, n-1).Draw(t, "which")
		was, want := rapid.SampledFrom([]string{"", byteOrderMark}).Draw(t, "mark"), ""
		was += strings.Join(columns, separator) + end
		want = was
		for i := range n {
			row := map[string]string{"id": cell(fmt.Sprintf("a%d", i)), "arrives": cell("2027-03-02"),
				"work": rapid.SampledFrom([]string{"Ferry", `"Gale: ""a"" study; No. 2, of three"`, "Ødegård"}).Draw(t, "work")}
			var cells []string
			for _, c := range columns {
				cells = append(cells, row[c])
			}
			line := strings.Join(cells, separator)
			if rapid.IntRange(0, 3).Draw(t, "empty line") == 0 {
				line += end
			}
			if i < n-1 || rapid.Bool().Draw(t, "ends") {
				line += end
			}
			was += line
			if i == which {
				line = strings.Replace(line, "2027-03-02", "2027-03-10", 1)
			}
			want += line
		}
		f, err := laid(t, dir, map[string]string{"season.yaml": tabled, "parts.csv": was})
		if err != nil {
			t.Fatalf("%v\n%q", err, was)
		}
		got, err := f.SetArrival(fmt.Sprintf("p/a%d", which), march(10))
		if err != nil {
			t.Fatalf("%v\n%q", err, was)
		}
		if text := string(got.Others["parts.csv"].Source); text != want || string(got.Source) != tabled {
			t.Fatalf("%q\nbecame\n%q, want\n%q", was, text, want)
		}
		for i, p := range got.Season.Programmes[0].Parts {
			day := map[bool]model.Date{true: march(10), false: march(2)}[i == which]
			if p.Arrives != day {
				t.Fatalf("part %d arrives on %v", i, p.Arrives)
			}
		}
		if err := got.Replace(f); err != nil {
			t.Fatal(err)
		}
		again, err := Read(f.Path)
		if err != nil || again.SHA256 != got.SHA256 || again.SHA256 == f.SHA256 {
			t.Fatalf("%v: what was written is not what was edited", err)
		}
		if now, err := os.ReadFile(filepath.Join(dir, "parts.csv")); err != nil || string(now) != want {
			t.Fatalf("wrote %q, %v", now, err)
		}
		// The table is now another than the first one read.
		late, err := f.SetArrival(fmt.Sprintf("p/a%d", which), march(3))
		if err != nil {
			t.Fatal(err)
		}
		if err := late.Replace(f); err == nil || !strings.Contains(err.Error(), "parts.csv: was changed by somebody else meanwhile") {
			t.Fatalf("written over another's change: %v", err)
		}
	})
}

// TestOneRowOfTwoProgrammes: a row that is a part of two programmes can't be
// changed for one of them.
func TestOneRowOfTwoProgrammes(t *testing.T) {
	f, err := laid(t, t.TempDir(), map[string]string{
		"season.yaml": tabled + strings.Replace(strings.SplitAfter(tabled, "programmes:\n")[1], "id: p", "id: q", 1),
		"parts.csv":   "id,arrives\na,2027-03-02\n"})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.SetArrival("p/a", march(9)); err == nil || !strings.Contains(err.Error(), "another programme reads it too") {
		t.Errorf("changed in both: %v", err)
	}
}

// TestSum: the checksum is the one that sha256sum gives, of the season file
// alone or with the files it names.
func TestSum(t *testing.T) {
	digest := func(text string) string {
		b := sha256.Sum256([]byte(text))
		return hex.EncodeToString(b[:])
	}
	alone := head + "programmes: [{id: p, services: [{rehearsal: 2027-03-30 10:00, lasts: 60 min}], parts: [{id: a, arrives: 2027-03-01}]}]\n"
	if f, err := laid(t, t.TempDir(), map[string]string{"season.yaml": alone}); err != nil || f.SHA256 != digest(alone) {
		t.Errorf("%v: the sum of a file alone is not that of its bytes", err)
	}
	event := "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:x\r\nBEGIN:VEVENT\r\nUID:1\r\nDTSTAMP:20270101T000000Z\r\nSUMMARY:Rehearsal\r\nDTSTART:20270329T080000Z\r\nDTEND:20270329T100000Z\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n"
	files := map[string]string{
		"season.yaml":   strings.Replace(tabled, "services: [{rehearsal: 2027-03-30 10:00, lasts: 60 min}]", "services_from: orchestra.ics", 1),
		"parts.csv":     "id,arrives\na,2027-03-02\n",
		"orchestra.ics": event,
	}
	dir := t.TempDir()
	f, err := laid(t, dir, files)
	if err != nil {
		t.Fatal(err)
	}
	var lines bytes.Buffer
	for _, name := range []string{"season.yaml", "orchestra.ics", "parts.csv"} {
		fmt.Fprintf(&lines, "%s  %s\n", digest(files[name]), name)
	}
	if want := digest(lines.String()); f.SHA256 != want {
		t.Errorf("%s, want %s", f.SHA256, want)
	}
	for name := range files {
		changed := map[string]string{name: files[name] + "\r\n"}
		if g, err := laid(t, dir, changed); err != nil || g.SHA256 == f.SHA256 {
			t.Errorf("%s: %v: a byte more and the same sum", name, err)
		}
		if _, err := laid(t, dir, files); err != nil {
			t.Fatal(err)
		}
	}
}

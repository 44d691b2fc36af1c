package seasonfile

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestPassagesFromATable: passages in a table mean what they mean in the season file,
// after those that stand there.
func TestPassagesFromATable(t *testing.T) {
	dir := t.TempDir()
	const table = "\ufeffpart\tbars\thard\texposed\tminutes\ttempo\tdue\tdaily\n" +
		"b\t1-8\tHard\tx\t\t60-96\t2027-03-20\t\n" + "a\t9-12\teasy\tno\t8\t\t\t1\n" + "b\t1-8\t\t\t\t120\t\t\n"
	if err := os.WriteFile(filepath.Join(dir, "bars.csv"), []byte(table), 0o644); err != nil {
		t.Fatal(err)
	}
	season := func(a, b, from string) string {
		return head + "programmes:\n  - id: p\n    services: [{rehearsal: 2027-03-30 10:00, lasts: 60 min}]\n    parts:\n" +
			"      - {id: a, arrives: 2027-03-01, passages: [{bars: 1-4}" + a + "]}\n      - {id: b, arrives: 2027-03-01" + b + "}\n" + from
	}
	written, err := Parse(filepath.Join(dir, "season.yaml"), []byte(season(", {bars: 9-12, hard: 1, minutes: 8, daily: yes}",
		", passages: [{bars: 1-8, hard: 3, exposed: yes, tempo: {now: 60, goal: 96}, due: 2027-03-20}, {bars: 1-8, tempo: {goal: 120}}]", "")))
	if err != nil {
		t.Fatal(err)
	}
	read, err := Parse(filepath.Join(dir, "season.yaml"), []byte(season("", "", "    passages_from: bars.csv\n")))
	if err != nil {
		t.Fatal(err)
	}
	if written.Season.Content() != read.Season.Content() {
		t.Errorf("%+v\n%+v", written.Season.Programmes, read.Season.Programmes)
	}
	// What stands in the table is not changed from here; what is added stands before it.
	if _, err := read.LeavePassages([]string{"p/b/1-8"}); err == nil || !strings.Contains(err.Error(), "can't be changed from here") {
		t.Errorf("%v", err)
	}
	if f, err := read.AddPassages("p/b", written.Season.Programmes[0].Parts[0].Passages[:1]); err != nil {
		t.Error(err)
	} else if q := f.Season.Programmes[0].Parts[1].Passages; len(q) != 3 || q[0].Bars != "1-4" {
		t.Errorf("%+v", q)
	}
}

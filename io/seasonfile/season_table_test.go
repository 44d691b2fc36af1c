package seasonfile

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"primaprova/model"
)

// fromTables makes a season of tables, each with its file's name.
func fromTables(t *testing.T, order string, o Start, tables map[string]string) (*File, string, error) {
	t.Helper()
	dir := t.TempDir()
	var paths []string
	for _, name := range []string{"one.csv", "parts.csv", "passages.csv"} {
		text, ok := tables[name]
		if !ok {
			continue
		}
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		paths = append(paths, path)
	}
	var b bytes.Buffer
	_, err := FromTables(&b, paths, o, order, model.NewDate(2027, 1, 4))
	if err != nil {
		return nil, strings.ReplaceAll(err.Error(), dir+string(filepath.Separator), ""), err
	}
	f, err := Parse("season.yaml", b.Bytes())
	if err != nil {
		t.Fatalf("%v\n%s", err, b.String())
	}
	return f, b.String(), nil
}

const oneTable = `Programme;service;Date;start;lasts;Work;arrives;read-through;estimate;bars;hard;exposed;tempo
Frost and fire;rehearsal;26.1.;10.00;2:30;;;;;;;;
;reh;27.1.2027;;;;;;;;;;
;;;;;Symphony no. 3;11.1.;60;;1-40;;;
;;;;;;;;;210-226;hard;x;92-144
;;;;;Overture;;;40 min;;;;
;concert;30 Jan 2027 19:30;;1,5 h;;;;;;;;
Gala;c;12.2.27;20;;Ferry waltz;;;1 h;;;;
`

func TestSeasonOfOneTable(t *testing.T) {
	f, text, err := fromTables(t, "", Start{Title: "Spring"}, map[string]string{"one.csv": oneTable})
	if err != nil {
		t.Fatal(text)
	}
	s := f.Season
	day := func(m, d int) model.Date { return model.NewDate(2027, 1, 31*(m-1)+d) }
	if s.From != day(1, 11) || s.To != day(2, 12) || len(s.Programmes) != 2 {
		t.Fatalf("%v..%v, %d programmes\n%s", s.From, s.To, len(s.Programmes), text)
	}
	p := s.Programmes[0]
	want := []model.Service{{Kind: model.Rehearsal, Date: day(1, 26), Start: 600, Lasts: 150, Playing: 65}, {Kind: model.Rehearsal, Date: day(1, 27), Start: 600, Lasts: 150, Playing: 65},
		{Kind: model.Concert, Date: day(1, 30), Start: 19*60 + 30, Lasts: 90, Playing: 65}}
	if !same(p.Services, want) || p.ID != "frost" || p.Title != "Frost and fire" {
		t.Errorf("%s: %+v", p.ID, p.Services)
	}
	if v := s.Programmes[1].Services[0]; v.Start != 20*60 || v.Lasts != 90 || v.Date != day(2, 12) {
		t.Errorf("%+v", v)
	}
	sym, ouv, ferry := p.Parts[0], p.Parts[1], s.Programmes[1].Parts[0]
	if sym.ID != "symphony" || sym.ReadThrough != 60 || sym.Arrives != day(1, 11) || len(sym.Passages) != 2 {
		t.Errorf("%+v", sym)
	} else if q := sym.Passages[1]; q.Hard != 3 || !q.Exposed || q.Tempo != (model.Pace{Now: 92, Goal: 144}) || sym.Passages[0].Hard != 2 {
		t.Errorf("%+v", sym.Passages)
	}
	if ouv.Estimate != 40 || ouv.Arrives != day(1, 11) || ferry.Estimate != 60 || ferry.Arrives != day(1, 11) {
		t.Errorf("%+v %+v", ouv, ferry)
	}
}

// TestSeasonOfTables: programmes, parts and passages in tables of their own, whatever
// their separator and order, make the season that one table makes.
func TestSeasonOfTables(t *testing.T) {
	one, text, err := fromTables(t, "", Start{}, map[string]string{"one.csv": oneTable})
	if err != nil {
		t.Fatal(text)
	}
	three, text, err := fromTables(t, "", Start{}, map[string]string{
		"one.csv":      "work\tbars\texposed\thard\ttempo\nsymphony no. 3\t1-40\nsymphony no. 3\t210-226\tyes\t3\t92-144\n",
		"parts.csv":    "\ufeffprogramme,work,arrives,read_through,estimate\r\nFrost and fire,Symphony no. 3,11/1/2027,60,\r\nFrost and fire,Overture,,,40\r\nGala,Ferry waltz,,,60\r\n",
		"passages.csv": "programme;date;start;end;service\nFrost and fire;26/1/2027;10:00;12:30;rehearsal\nfrost;27/1/2027;;;dress rehearsal for the concert\nFrost and fire;30/1/2027;19:30;21:00;concert\nGala;12/2/2027;20:00;21:30;performance\n",
	})
	if err != nil {
		t.Fatal(text)
	}
	if one.Season.Content() != three.Season.Content() {
		t.Errorf("not the same:\n%s\n%s", one.Source, three.Source)
	}
}

// TestFaultsOfTables: all at once, in the lines of the tables; what can mean two
// things is asked about.
func TestFaultsOfTables(t *testing.T) {
	for table, want := range map[string]string{
		"programme;work;arives\nA;B;1.1.\n":                                                             "one.csv:1: \"arives\": this column is not known\n  try: arrives",
		"name;what\nA;B\n":                                                                              "one.csv:1: no column is known",
		"work;estimate\nB;20\n":                                                                         "one.csv:2: of which programme?\n  try: its title in the column programme",
		"programme;service;date;start;lasts\nA;r;3.2.;10;150\n":                                         "one.csv:2: service: \"r\": can be read in two ways\n  try: rehearsal or recital",
		"programme;service;date;start;lasts\nA;rehearsal;3.2.;;\n":                                      "one.csv:2: start: is missing, and no rehearsal stands above\none.csv:2: lasts: is missing, and no rehearsal stands above",
		"programme;service;date;start;lasts\nA;reh;3/4/2027;10;150":                                     "one.csv:2: date: \"3/4/2027\": can be read in two ways: 2027-04-03 or 2027-03-04",
		"programme;work;bars\nA;B;1-Apr\nA;;\n;;04.01.2027\n":                                           "one.csv:2: bars: \"1-Apr\": looks like a date that a spreadsheet made of bars",
		"programme;work;estimate;bars\nA;B;20;1-8\n;B;30;9-12\n":                                        "one.csv:3: estimate: \"30\": is otherwise in line 2, where this work begins\n  try: say it once",
		"programme;hard\nA;3\n":                                                                         "one.csv:2: a passage has no bars",
		"programme;service;date;start;lasts;work;arrives;estimate\nA;reh;3.2.;10;150;Ballad;10.2.;20\n": "one.csv:2: a/ballad: arrives: \"2027-02-10\": the part arrives when all is over",
	} {
		_, got, err := fromTables(t, "", Start{}, map[string]string{"one.csv": table})
		if err == nil || !strings.Contains(got, want) {
			t.Errorf("%q:\n%s\nwant\n%s", table, got, want)
		}
	}
	// One date tells the order of all with strokes, or the reader's own way does.
	const two = "programme;service;date;start;lasts;work;estimate\nA;reh;3/4/2027;10;150;Ballad;20\n"
	for _, x := range []struct{ order, table, want string }{
		{"", two + ";concert;26/4/2027;19.30;90;;\n", "2027-04-03"}, {"", two + ";concert;4/26/2027;19.30;90;;\n", "2027-03-04"},
		{dateOrders[0], two, "2027-04-03"}, {dateOrders[1], two, "2027-03-04"},
	} {
		f, text, err := fromTables(t, x.order, Start{}, map[string]string{"one.csv": x.table})
		if err != nil {
			t.Error(text)
		} else if d := f.Season.Programmes[0].Services[0].Date; d.String() != x.want {
			t.Errorf("%q: %v, not %s", x.table, d, x.want)
		}
	}
}

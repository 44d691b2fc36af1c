package planfile

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"syscall"
	"testing"

	"pgregory.net/rapid"

	"primaprova/io/disk"
	"primaprova/model"
)

func ptr[T any](v T) *T { return &v }

func small() *model.Plan {
	d := model.NewDate(2027, 1, 14)
	return &model.Plan{
		Format: model.PlanFormat,
		Season: model.SeasonFile{File: "skerry.yaml", SHA256: "00ff"},
		From:   d, To: d + 20, Calendar: "0011223344556677",
		Provenance: model.Provenance{Engine: "greedy", Status: model.FirstPlan, Seed: 1,
			Wishes: []model.WishValue{{Name: "coverage", Value: 3, Bound: 0.5, Unit: "points"}}},
		Sessions: []model.Session{
			{ID: "tide/slate/listening", Date: d, Minutes: 80, Stage: model.ListeningStage, Part: "tide/slate"},
			{ID: "warm-up/2027-01-15", Date: d + 1, Start: ptr(model.Clock(570)), Ends: ptr(model.Clock(580)), Minutes: 10, Playing: true, Stage: model.WarmUpStage},
			{ID: "tide/slate/45-61/visit-1", Date: d + 1, Start: ptr(model.Clock(580)), Ends: ptr(model.Clock(595)), Minutes: 15, Playing: true,
				Stage: model.PassageStage, Part: "tide/slate", Passage: ptr("tide/slate/45-61"), Visit: ptr(1), Visits: ptr(4), Sequence: 2},
		},
		Unplaced:    []model.Unplaced{{ID: "tide/slate/recordings", Stage: model.RecordingsStage, Part: "tide/slate", Minutes: 20}},
		Days:        []model.Day{{Date: d, Cap: 180}, {Date: d + 1, Cap: 180, Services: 98, WarmUp: 10, Planned: 15, Rest: false}},
		Cancelled:   []model.Cancelled{{ID: "warm-up/2027-01-16", Date: d + 2, Start: ptr(model.Clock(570)), Minutes: 10, Sequence: 1}},
		ChangedDays: []model.ChangedDay{{Date: d + 2, Sequence: 1}},
	}
}

func TestLayout(t *testing.T) {
	got, err := encode(small())
	if err != nil {
		t.Fatal(err)
	}
	want, err := os.ReadFile("testdata/small.json")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestWriteRead(t *testing.T) {
	path := filepath.Join(t.TempDir(), "plan.json")
	for _, p := range []*model.Plan{small(), {Format: model.PlanFormat, From: 1, To: 2, Provenance: model.Provenance{Status: model.Proven}}} {
		p.Renumber(nil, 0)
		if err := Write(path, p); err != nil {
			t.Fatal(err)
		}
		got, err := Read(path)
		if err != nil {
			t.Fatal(err)
		}
		if p.Provenance.Wishes == nil {
			got.Provenance.Wishes = nil
		}
		if !reflect.DeepEqual(got, p) {
			t.Errorf("read\n%+v\nwritten\n%+v", got, p)
		}
	}
}

func TestWriteFillsTheFormat(t *testing.T) {
	path := filepath.Join(t.TempDir(), "plan.json")
	p := small()
	p.Format = ""
	if err := Write(path, p); err != nil {
		t.Fatal(err)
	}
	if p.Format != "" {
		t.Error("the plan handed in was changed")
	}
	if got, err := Read(path); err != nil || got.Format != model.PlanFormat {
		t.Errorf("%+v, %v", got, err)
	}
}

// Each change makes one text of the small plan into another; the faults are
// those wanted, with their lines.
func TestFaults(t *testing.T) {
	for _, c := range []struct{ name, from, to, want string }{
		{"version", "plan/1", "plan/7", `p:2: format: "primaprova/plan/7": this program reads primaprova/plan/1; use the version that wrote the file, or make the plan anew with: primaprova plan --anew`},
		{"no format", "\"format\": \"primaprova/plan/1\",\n", "\n", "p:1: is not a plan: format is left out"},
		{"unknown key", `"engine"`, `"motor"`, "p:7: provenance.motor: unknown key"},
		{"key in capitals", `"from"`, `"From"`, "p:4: From: unknown key"},
		{"given twice", `"seed":1`, `"seed":1,"seed":2`, "p:7: provenance.seed: is given twice"},
		{"text for minutes", `"minutes":80`, `"minutes":"80"`, `p:9: sessions[0].minutes: "80": a whole number is wanted`},
		{"parts of a minute", `"minutes":80`, `"minutes":8.5`, "p:9: sessions[0].minutes: 8.5: a whole number is wanted"},
		{"negative minutes", `"minutes":80`, `"minutes":-5`, "p:9: sessions[0].minutes: -5: 0 to 1440 minutes are wanted"},
		{"absurd minutes", `"minutes":80`, `"minutes":99999999999999999999`, "p:9: sessions[0].minutes: 99999999999999999999: a whole number is wanted"},
		{"no such day", `"from": "2027-01-14"`, `"from": "2027-02-30"`, `p:4: from: "2027-02-30" is not a date like 2027-01-31`},
		{"empty date", `"from": "2027-01-14"`, `"from": ""`, `p:4: from: "": a date is wanted`},
		{"number for a date", `"from": "2027-01-14"`, `"from": 20270114`, `p:4: from: 20270114: a date like "2027-01-31" is wanted`},
		{"null for a date", `"from": "2027-01-14"`, `"from": null`, `p:4: from: null: a date is wanted`},
		{"bad clock", `"start":"09:30","ends"`, `"start":"9.30","ends"`, `p:10: sessions[1].start: "9.30" is not a time like 09:30`},
		{"stage", `"stage":"listening"`, `"stage":"gazing"`, `p:9: sessions[0].stage: "gazing": is no stage of the work`},
		{"status", `"first plan"`, `"best plan"`, `p:7: provenance.status: "best plan": is no status of a plan`},
		{"list for an object", `"provenance": {`, `"provenance": [], "x": {`, "p:7: provenance: []: an object is wanted"},
		{"object for a list", `"days": [`, `"days": {}, "x": [`, "p:16: days: {}: a list is wanted"},
		{"yes for true", `"playing":false`, `"playing":"no"`, `p:9: sessions[0].playing: "no": true or false is wanted`},
		{"number out of range", `"bound":0.5`, `"bound":1e999`, "p:7: provenance.wishes[0].bound: 1e999: a number is wanted"},
		{"kept out of the file", `"seed":1`, `"seed":1,"-":2`, "p:7: provenance.-: unknown key"},
		{"ends before it begins", `"to": "2027-02-03"`, `"to": "2027-01-13"`, "p:5: to: 2027-01-13: lies before from, 2027-01-14\n" +
			"p:9: sessions[0].date: 2027-01-14: lies outside the season, 2027-01-14..2027-01-13\n" +
			"p:10: sessions[1].date: 2027-01-15: lies outside the season, 2027-01-14..2027-01-13\n" +
			"p:11: sessions[2].date: 2027-01-15: lies outside the season, 2027-01-14..2027-01-13"},
		{"id taken", `"tide/slate/recordings"`, `"tide/slate/listening"`, "p:14: unplaced[0].id: tide/slate/listening: is taken by line 9"},
		{"id empty", `"tide/slate/recordings"`, `""`, "p:14: unplaced[0].id: is empty"},
		{"no end", `"ends":"09:40"`, `"ends":null`, "p:10: sessions[1].ends: start and ends are given together or not at all"},
		{"ends early", `"ends":"09:40"`, `"ends":"09:20"`, "p:10: sessions[1].ends: 09:20: lies before start, 09:30"},
		{"plays while listening", `"playing":false`, `"playing":true`, "p:9: sessions[0].playing: true: does not go with stage listening"},
		{"visit without passage", `"passage":"tide/slate/45-61"`, `"passage":null`, "p:11: sessions[2].passage: passage, visit and visits are given for passages and for nothing else"},
		{"visit beyond the last", `"visit":1`, `"visit":5`, "p:11: sessions[2].visit: 5: is not one of 4 visits"},
		{"day twice", `{"date":"2027-01-15","cap"`, `{"date":"2027-01-14","cap"`, "p:18: days[1].date: 2027-01-14: is given twice"},
		{"cut off", "\n  \"days\"", "\n  \"da", "p:16: is not JSON: unexpected EOF"},
		{"comma left over", "}\n  ],\n  \"days\"", "},\n  ],\n  \"days\"", "p:14: is not JSON: invalid character ',' at start of value"},
		{"not UTF-8", "skerry", "sk\xe9rry", "p:3: is not JSON: invalid UTF-8"},
	} {
		t.Run(c.name, func(t *testing.T) {
			data, err := os.ReadFile("testdata/small.json")
			if err != nil {
				t.Fatal(err)
			}
			if strings.Count(string(data), c.from) == 0 {
				t.Fatalf("%q is not in the small plan", c.from)
			}
			text := strings.Replace(string(data), c.from, c.to, 1)
			if c.name == "cut off" {
				text = text[:strings.Index(text, c.to)+len(c.to)]
			}
			p, err := decode("p", []byte(text))
			if err == nil {
				t.Fatalf("no fault; read %+v", p)
			}
			if got := err.Error(); got != c.want {
				t.Errorf("got\n%s\nwant\n%s", got, c.want)
			}
		})
	}
}

func TestManyFaultsEndInASum(t *testing.T) {
	text := `{"format":"primaprova/plan/1","sessions":[` + strings.Repeat("{},", 40) + `{}]}`
	_, err := decode("p", []byte(text))
	lines := strings.Split(err.Error(), "\n")
	if last := lines[len(lines)-1]; len(lines) != disk.MostFaults+1 || last != "p: and 65 faults more" {
		t.Errorf("%d lines, the last %q", len(lines), last)
	}
}

func TestNotAPlan(t *testing.T) {
	for text, want := range map[string]string{
		"":          "p:1: the file is empty; make the plan anew with: primaprova plan --anew",
		" \n":       "p:1: the file is empty; make the plan anew with: primaprova plan --anew",
		"null":      "p:1: is not a plan: format is left out",
		"[1]":       "p:1: [1]: an object is wanted",
		"title: x":  "p:1: is not JSON: invalid character 'i' in literal true (expecting 'r')",
		"\ufeff{}":  "p:1: is not JSON: invalid character '\\ufeff' at start of value",
		"{} trails": "p:1: is not JSON: invalid character 't' after top-level value",
	} {
		if _, err := decode("p", []byte(text)); err == nil || err.Error() != want {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
}

func TestUnreadable(t *testing.T) {
	dir := t.TempDir()
	none := filepath.Join(dir, "none.json")
	if _, err := Read(none); !errors.Is(err, fs.ErrNotExist) || err.Error() != none+": there is no plan yet; make one with: primaprova plan" {
		t.Error(err)
	}
	if _, err := Read(dir); err == nil || err.Error() != dir+": is a folder, not a plan" {
		t.Error(err)
	}
	pipe := filepath.Join(dir, "pipe")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := Read(pipe); err == nil || err.Error() != pipe+": is not a regular file" {
		t.Error(err)
	}
	big := filepath.Join(dir, "big.json")
	f, err := os.Create(big)
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(f.Truncate(64<<20+1), f.Close()); err != nil {
		t.Fatal(err)
	}
	if _, err := Read(big); err == nil || err.Error() != big+": is larger than 64 MB, which no plan is" {
		t.Error(err)
	}
}

func TestWriteIsWhole(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "plan.json")
	if err := os.WriteFile(path, []byte("old"), 0o600); err != nil {
		t.Fatal(err)
	}
	old, err := os.Open(path) // a reader that began before
	if err != nil {
		t.Fatal(err)
	}
	defer old.Close()
	bad := small()
	bad.Sessions[0].ID = ""
	if err := Write(path, bad); err == nil || !strings.HasPrefix(err.Error(), "this plan could not be read back") {
		t.Errorf("a plan that Read refuses was written: %v", err)
	}
	bad = small()
	zero := 0.0
	bad.Provenance.Wishes[0].Bound = 1 / zero
	if err := Write(path, bad); err == nil || !strings.Contains(err.Error(), "provenance: json: unsupported value") {
		t.Errorf("infinity was written: %v", err)
	}
	if data, _ := os.ReadFile(path); string(data) != "old" {
		t.Errorf("the old file became %q", data)
	}
	if err := Write(path, small()); err != nil {
		t.Fatal(err)
	}
	buf := make([]byte, 10)
	if n, _ := old.Read(buf); string(buf[:n]) != "old" {
		t.Errorf("the earlier reader sees %q", buf[:n])
	}
	if info, _ := os.Stat(path); info.Mode().Perm() != 0o600 {
		t.Errorf("permissions became %v", info.Mode())
	}
	entries, err := os.ReadDir(dir)
	if err != nil || len(entries) != 1 {
		t.Errorf("left behind: %v, %v", entries, err)
	}
}

func TestWriteFollowsALink(t *testing.T) {
	dir := t.TempDir()
	real, link := filepath.Join(dir, "real.json"), filepath.Join(dir, "link.json")
	if err := errors.Join(os.WriteFile(real, nil, 0o644), os.Symlink("real.json", link)); err != nil {
		t.Fatal(err)
	}
	if err := Write(link, small()); err != nil {
		t.Fatal(err)
	}
	if info, _ := os.Lstat(link); info.Mode()&fs.ModeSymlink == 0 {
		t.Error("the link was replaced")
	}
	if _, err := Read(real); err != nil {
		t.Error(err)
	}
}

func TestUnwritable(t *testing.T) {
	dir := t.TempDir()
	for path, want := range map[string]string{
		filepath.Join(dir, "none", "plan.json"): "cannot be written: no such file or directory",
		dir:                                     "cannot be written: is not a regular file",
		"/dev/null":                             "cannot be written: is not a regular file",
	} {
		if err := Write(path, small()); err == nil || err.Error() != path+": "+want {
			t.Errorf("%v, want %s", err, want)
		}
	}
}

// Any plan comes back as it was written, byte for byte when written again.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := small()
		for i := range rapid.IntRange(0, 5).Draw(t, "more") {
			s := p.Sessions[0]
			s.ID = rapid.StringN(1, 20, -1).Draw(t, "id") + string(rune('a'+i))
			s.Date = p.From + model.Date(rapid.IntRange(0, 20).Draw(t, "day"))
			s.Minutes = model.Minutes(rapid.IntRange(0, 1440).Draw(t, "minutes"))
			s.Number = rapid.IntRange(0, 9).Draw(t, "number")
			s.Sequence = rapid.IntRange(0, 9).Draw(t, "sequence")
			p.Sessions = append(p.Sessions, s)
		}
		p.Provenance.Wishes[0].Value = rapid.Float64().Draw(t, "value")
		p.Season.File = rapid.String().Draw(t, "file")
		a, err := encode(p)
		if err != nil {
			t.Fatal(err)
		}
		q, err := decode("p", a)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(p, q) {
			t.Fatalf("wrote %+v\nread %+v", p, q)
		}
		if b, _ := encode(q); !bytes.Equal(a, b) {
			t.Fatalf("written again:\n%s\n%s", a, b)
		}
	})
}

// Whatever the bytes: no crash, and what is taken comes back the same.
func FuzzRead(f *testing.F) {
	data, err := os.ReadFile("testdata/small.json")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(data)
	for _, s := range []string{"", "{}", "null", "[", `{"format":"primaprova/plan/1","sessions":[{}, null, 3, "x", [{"a":[]}]], "days":{"\"":1}}`, `{"a":"\\\"","a":{}}`} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := decode("p", data)
		if err != nil {
			if err.Error() == "" {
				t.Error("an error without a word")
			}
			return
		}
		a, err := encode(p)
		if err != nil {
			t.Fatal(err)
		}
		q, err := decode("p", a)
		if err != nil {
			t.Fatalf("%s\n%v", a, err)
		}
		if b, _ := encode(q); !bytes.Equal(a, b) {
			t.Fatalf("written twice:\n%s\n%s", a, b)
		}
	})
}

func BenchmarkRead(b *testing.B) {
	p := small()
	one := p.Sessions[2]
	for i := range 2500 {
		one.ID = model.VisitID("tide/slate/x", i)
		p.Sessions = append(p.Sessions, one)
	}
	data, err := encode(p)
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		if _, err := decode("p", data); err != nil {
			b.Fatal(err)
		}
	}
}

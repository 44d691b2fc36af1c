package seasonfile

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"primaprova/model"
)

func parsed(t interface {
	Helper()
	Fatalf(string, ...any)
}, text string) *File {
	t.Helper()
	f, err := Parse("season.yaml", []byte(text))
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return f
}

const head = "title: T\ntime_zone: Europe/Oslo\nfrom: 2027-03-01\nto: 2027-03-31\nlimits: {playing: 120 min}\n"

var march = func(d int) model.Date { return model.NewDate(2027, 3, d) }

// TestEdits gives each edit in each layout with the bytes that must come of it.
func TestEdits(t *testing.T) {
	habits := model.DefaultHabits()
	ferry := model.Part{ID: "ferry", Work: "Ferry Waltz", Arrives: march(5), Listening: habits.Listening,
		ReadThrough: habits.ReadThrough, Recordings: habits.Recordings, Estimate: 60}
	listing := ferry
	listing.ID, listing.Work, listing.Estimate = "null", "Gale: a study, No. 2", 0
	listing.Passages = []model.Passage{{Bars: "1-8", Hard: 3, Exposed: true}, {Bars: "9-16", Hard: 2, Visits: []model.Minutes{10, 5}}}
	const services = "services: [{rehearsal: 2027-03-30 10:00, lasts: 60 min}]"
	add := func(p model.Part) func(*File) (*File, error) {
		return func(f *File) (*File, error) { return f.AddPart("p", p) }
	}
	replace := func(p model.Part) func(*File) (*File, error) {
		return func(f *File) (*File, error) { return f.ReplacePart("p/a", p) }
	}
	arrives := func(f *File) (*File, error) { return f.SetArrival("p/a", march(9)) }
	pin := func(f *File) (*File, error) { return f.Pin("p/a/read-through", march(10)) }
	unpin := func(f *File) (*File, error) { return f.Unpin("p/a/read-through") }
	const block = "programmes:\n  - id: p\n    " + services + "\n    parts:\n      - id: a   # the first\n        arrives: 2027-03-01  # by post\n"
	const two = block + "        # nothing hard in it\n      # more may come\n  - id: q\n    " + services + "\n    parts: [{id: b, arrives: 2027-03-02}]\n"
	for _, c := range []struct {
		name     string
		edit     func(*File) (*File, error)
		from, to string
	}{
		{"arrives", arrives, block, strings.Replace(block, "2027-03-01", "2027-03-09", 1)},
		{"arrives, in quotes", arrives, `programmes: [{"id": "p", ` + services + `, "parts": [{"id": "a", "arrives": "2027-03-01"}]}]`,
			`programmes: [{"id": "p", ` + services + `, "parts": [{"id": "a", "arrives": "2027-03-09"}]}]`},
		{"a part after a part over lines, behind its comments", add(ferry), two, strings.Replace(two, "        # nothing hard in it\n",
			"        # nothing hard in it\n      - id: ferry\n        work: Ferry Waltz\n        arrives: 2027-03-05\n        estimate: 60 min\n", 1)},
		{"a part with passages", add(listing), block, block + "      - id: \"null\"\n        work: \"Gale: a study, No. 2\"\n        arrives: 2027-03-05\n" +
			"        passages:\n          - {bars: 1-8, hard: 3, exposed: yes}\n          - {bars: 9-16, visits: [10 min, 5 min]}\n"},
		{"a file without a last line end", add(ferry), strings.TrimSuffix(block, "\n"),
			strings.TrimSuffix(block, "\n") + "\n      - id: ferry\n        work: Ferry Waltz\n        arrives: 2027-03-05\n        estimate: 60 min"},
		{"dashes under their key", add(ferry), "programmes:\n- id: p\n  " + services + "\n  parts:\n  - {id: a, arrives: 2027-03-01} # x\n# the end\n",
			"programmes:\n- id: p\n  " + services + "\n  parts:\n  - {id: a, arrives: 2027-03-01} # x\n" +
				"  - {id: ferry, work: Ferry Waltz, arrives: 2027-03-05, estimate: 60 min}\n# the end\n"},
		{"brackets over lines", add(ferry), "programmes:\n  - id: p\n    " + services + "\n    parts: [\n      {id: a, arrives: 2027-03-01} # x, y\n    ]\n",
			"programmes:\n  - id: p\n    " + services + "\n    parts: [\n      {id: a, arrives: 2027-03-01}, # x, y\n" +
				"      {id: ferry, work: Ferry Waltz, arrives: 2027-03-05, estimate: 60 min}\n    ]\n"},
		{"a comma after the last", add(ferry), "programmes: [{id: p, " + services + ", parts: [\n{id: a, arrives: 2027-03-01},\n]}]\n",
			"programmes: [{id: p, " + services + ", parts: [\n{id: a, arrives: 2027-03-01},\n{id: ferry, work: Ferry Waltz, arrives: 2027-03-05, estimate: 60 min}\n]}]\n"},
		{"another work", replace(listing), two, strings.Replace(two, "id: a   # the first\n        arrives: 2027-03-01  # by post\n",
			"id: \"null\"\n        work: \"Gale: a study, No. 2\"\n        arrives: 2027-03-05\n        passages:\n          - {bars: 1-8, hard: 3, exposed: yes}\n          - {bars: 9-16, visits: [10 min, 5 min]}\n", 1)},
		{"another work, its pins gone", replace(ferry), "programmes: [{id: p, " + services + ", parts: [{id: a, arrives: 2027-03-01}]}]\npins:\n  - {session: p/a/read-through, date: 2027-03-04}\n",
			"programmes: [{id: p, " + services + ", parts: [{id: ferry, work: Ferry Waltz, arrives: 2027-03-05, estimate: 60 min}]}]\n"},
		{"the first pin", pin, block + "# the end\n", block + "pins:\n  - {session: p/a/read-through, date: 2027-03-10}\n# the end\n"},
		{"one pin more", pin, "pins:\n  - session: p/a/listening # x\n    date: 2027-03-04\n" + block,
			"pins:\n  - session: p/a/listening # x\n    date: 2027-03-04\n  - session: p/a/read-through\n    date: 2027-03-10\n" + block},
		{"a pin moved", pin, "pins: [{session: p/a/read-through, date: 2027-03-04}] # x\n" + block, "pins: [{session: p/a/read-through, date: 2027-03-10}] # x\n" + block},
		{"a pin in empty brackets", pin, "pins: []  # x\n" + block, "pins: [{session: p/a/read-through, date: 2027-03-10}]  # x\n" + block},
		{"the only pin gone", unpin, "pins:\n  - {session: p/a/read-through, date: 2027-03-04} # x\n" + block, block},
		{"the only pin gone, a comment stays", unpin, "pins: # ours\n  - {session: p/a/read-through, date: 2027-03-04} # x\n" + block, "pins: [] # ours\n" + block},
		{"one of two pins gone", unpin, "pins:\n  # a\n  - {session: p/a/read-through, date: 2027-03-04}\n  # b\n  - {session: p/a/listening, date: 2027-03-03}\n" + block,
			"pins:\n  # a\n  # b\n  - {session: p/a/listening, date: 2027-03-03}\n" + block},
		{"the last of two in brackets gone", unpin, "pins: [{session: p/a/listening, date: 2027-03-03}, {session: p/a/read-through, date: 2027-03-04}]\n" + block,
			"pins: [{session: p/a/listening, date: 2027-03-03}]\n" + block},
		{"the last of two lines in brackets gone", unpin, "pins: [\n  {session: p/a/listening, date: 2027-03-03}, # x\n  {session: p/a/read-through, date: 2027-03-04}\n]\n" + block,
			"pins: [\n  {session: p/a/listening, date: 2027-03-03} # x\n]\n" + block},
		{"the first of two in brackets gone", unpin, "pins: [ {session: p/a/read-through, date: 2027-03-04}, {session: p/a/listening, date: 2027-03-03} ]\n" + block,
			"pins: [ {session: p/a/listening, date: 2027-03-03} ]\n" + block},
	} {
		t.Run(c.name, func(t *testing.T) {
			for _, shape := range []func(string) string{
				func(s string) string { return s },
				func(s string) string { return "\ufeff" + strings.ReplaceAll(s, "\n", "\r\n") },
			} {
				f, err := c.edit(parsed(t, shape(head+c.from)))
				if err != nil {
					t.Fatal(err)
				}
				if got, want := string(f.Source), shape(head+c.to); got != want {
					t.Errorf("got:\n%s\nwant:\n%s", got, want)
				}
			}
		})
	}
}

// TestRefusedEdits: what would make a faulty season, or can't be done, is said
// and gives no file.
func TestRefusedEdits(t *testing.T) {
	const text = head + "programmes:\n  - id: p\n    services: [{rehearsal: 2027-03-30 10:00, lasts: 60 min}]\n    parts:\n      - {id: a, arrives: 2027-03-01}\n"
	a := model.Part{ID: "a", Arrives: march(1), ReadThrough: 30}
	for _, c := range []struct {
		name, want string
		edit       func(*File) (*File, error)
	}{
		{"no such part", "is no part of the season", func(f *File) (*File, error) { return f.SetArrival("p/b", march(2)) }},
		{"too late", "the season would have faults, so nothing was written", func(f *File) (*File, error) { return f.SetArrival("p/a", march(31)) }},
		{"an id that is taken", "the season would have faults", func(f *File) (*File, error) { return f.AddPart("p", a) }},
		{"no such programme", "no programme has this id", func(f *File) (*File, error) { return f.AddPart("q", a) }},
		{"the same id again", "is the id of the part that goes", func(f *File) (*File, error) { return f.ReplacePart("p/a", a) }},
		{"no such session", "the season has no such session", func(f *File) (*File, error) { return f.Pin("p/b/listening", march(2)) }},
		{"not pinned", "is not pinned", func(f *File) (*File, error) { return f.Unpin("p/a/listening") }},
	} {
		t.Run(c.name, func(t *testing.T) {
			f, err := c.edit(parsed(t, text))
			if err == nil || f != nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, %v, want %q", f, err, c.want)
			}
		})
	}
}

// within tells whether all of a's bytes are in b in their order: whether b
// came of a by adding.
func within(a, b []byte) bool {
	for _, c := range b {
		if len(a) > 0 && a[0] == c {
			a = a[1:]
		}
	}
	return len(a) == 0
}

// laidOut writes a season in a layout that is drawn.
func laidOut(t *rapid.T) string {
	var b strings.Builder
	p := func(form string, args ...any) { fmt.Fprintf(&b, form, args...) }
	note := func(indent string) {
		if rapid.IntRange(0, 3).Draw(t, "note") == 0 {
			p("%s%s\n", indent, rapid.SampledFrom([]string{"# - {id: x, arrives: y}", "#", "", "# ] }, '\""}).Draw(t, "comment"))
		}
	}
	tail := func() string {
		return rapid.SampledFrom([]string{"", "", " # a, b", "  #]", " "}).Draw(t, "tail")
	}
	pins := func() {
		a, c := "{session: p0/a0/read-through, date: 2027-03-04}", "{session: p0/a0/listening, date: 2027-03-04}"
		switch rapid.IntRange(0, 5).Draw(t, "pins") {
		case 0:
			p("pins:%s\n", tail())
			note("  ")
			p("  - %s%s\n", a, tail())
			note("   ")
			p("  - session: p0/a0/listening%s\n    date: '2027-03-04'%s\n", tail(), tail())
		case 1:
			p("pins: [%s, %s]%s\n", a, c, tail())
		case 2:
			p("pins: [%s\n", tail())
			note("   ")
			p("   %s,%s\n  %s%s%s\n  ]%s\n", a, tail(), c, rapid.SampledFrom([]string{"", ","}).Draw(t, "comma"), tail(), tail())
		case 3:
			p("pins: []%s\n", tail())
		case 4:
			p("pins:\n- %s%s\n", a, tail())
		}
	}
	p("%s", head)
	before := rapid.Bool().Draw(t, "pins before")
	if before {
		pins()
	}
	p("programmes:%s\n", tail())
	in := strings.Repeat(" ", rapid.IntRange(0, 3).Draw(t, "indent"))
	for i := range rapid.IntRange(1, 2).Draw(t, "programmes") {
		note(in)
		p("%s- id: p%d%s\n%s  services: [{rehearsal: 2027-03-30 10:00, lasts: 60 min}]\n", in, i, tail(), in)
		parts := rapid.IntRange(1, 3).Draw(t, "parts")
		work := rapid.SampledFrom([]string{"W", `"W: \" ]}, #"`, "'it''s, {'", "Wide\n" + in + "          one"}).Draw(t, "work")
		switch rapid.IntRange(0, 3).Draw(t, "style") {
		case 0:
			p("%s  parts:%s\n", in, tail())
			for j := range parts {
				p("%s  - id: a%d%s\n%s    arrives: 2027-03-0%d%s\n", in, j, tail(), in, 1+j, tail())
				note(in + "    ")
				p("%s    passages:\n%s    - {bars: 1-8}%s\n", in, in, tail())
				note(in + "    ")
				p("%s    work: %s\n", in, work)
				note(in + "      ")
			}
		case 1:
			p("%s  parts:\n", in)
			for j := range parts {
				p("%s    - {id: a%d, work: %s, arrives: 2027-03-0%d}%s\n", in, j, work, 1+j, tail())
				note(in + "    ")
			}
		case 2:
			p("%s  parts: [", in)
			for j := range parts {
				p("%s{id: a%d, work: %s, arrives: 2027-03-0%d}", map[bool]string{true: ", "}[j > 0], j, work, 1+j)
			}
			p("]%s\n", tail())
		case 3:
			p("%s  parts: [%s\n", in, tail())
			for j := range parts {
				note(in + "    ")
				p("%s    {id: a%d, work: %s, arrives: 2027-03-0%d},%s\n", in, j, work, 1+j, tail())
			}
			p("%s  ]%s\n", in, tail())
		}
		note(in)
	}
	if !before {
		pins()
	}
	note("")
	s := b.String()
	if rapid.Bool().Draw(t, "no last line end") {
		s = strings.TrimRight(s, "\n")
	}
	if rapid.Bool().Draw(t, "CRLF") {
		s = strings.ReplaceAll(s, "\n", "\r\n")
	}
	if rapid.Bool().Draw(t, "BOM") {
		s = "\ufeff" + s
	}
	return s
}

// TestAnyEdit makes one edit after the other in seasons of any layout. That
// the season read again is the intended one is checked by the edit itself; the
// test would fail if it refused. Here: that the model is what was asked for,
// and that no byte is touched that need not be.
func TestAnyEdit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := parsed(t, laidOut(t))
		for n := range rapid.IntRange(1, 5).Draw(t, "edits") {
			whole := slices.IndexFunc(f.Season.Programmes, func(p model.Programme) bool { return len(p.Parts) == 0 }) // those added stand last
			if whole < 0 {
				whole = len(f.Season.Programmes)
			}
			at := located{rapid.IntRange(0, whole-1).Draw(t, "programme"), 0}
			g := &f.Season.Programmes[at.programme]
			at.part = rapid.IntRange(0, len(g.Parts)-1).Draw(t, "part")
			old := g.Parts[at.part]
			name := model.PartName(g.ID, old.ID)
			fresh := model.Part{ID: fmt.Sprintf("n%d", n), Work: rapid.SampledFrom([]string{"New", "null", "a: b # c", "{x", "Ø, \"w\""}).Draw(t, "new work"),
				Arrives: march(6), Listening: 20, ReadThrough: 25, Recordings: 0, Estimate: model.Minutes(30 * rapid.IntRange(0, 2).Draw(t, "estimate"))}
			if rapid.Bool().Draw(t, "listing") {
				fresh.Passages = []model.Passage{{Bars: "I 1-8", Hard: 3}, {Bars: "9", Hard: 2, Exposed: true, Minutes: 5, Visits: []model.Minutes{5}}}
			}
			session := rapid.SampledFrom([]string{model.StageID(name, model.ReadStage), model.StageID(name, model.ListeningStage)}).Draw(t, "session")
			day := march(rapid.IntRange(7, 20).Draw(t, "day"))
			pinned := func(f *File) bool {
				return slices.ContainsFunc(f.Season.Pins, func(p model.Pin) bool { return p.Session == session })
			}
			was := f
			var err error
			what := rapid.SampledFrom([]string{"arrives", "add", "replace", "pin", "unpin", "programme", "services", "passages", "estimate"}).Draw(t, "edit")
			switch what {
			case "arrives":
				// Pins stand on the 4th at the earliest, and a part has to be there by then.
				day = march(rapid.IntRange(1, 4).Draw(t, "arrives"))
				if f, err = f.SetArrival(name, day); err != nil {
					break
				}
				if f.Season.Programmes[at.programme].Parts[at.part].Arrives != day || len(f.Source) != len(was.Source) {
					t.Fatalf("not on %v, or more than the date:\n%s", day, f.Source)
				}
			case "add":
				if f, err = f.AddPart(g.ID, fresh); err != nil {
					break
				}
				if parts := f.Season.Programmes[at.programme].Parts; len(parts) != len(g.Parts)+1 || parts[len(g.Parts)].Work != fresh.Work {
					t.Fatalf("not added:\n%s", f.Source)
				}
				if !within(was.Source, f.Source) {
					t.Fatalf("bytes are lost:\n%s", f.Source)
				}
			case "programme":
				if f, err = f.AddProgramme(model.Programme{Title: fresh.Work, ID: fresh.ID}); err != nil {
					break
				}
				if all := f.Season.Programmes; all[len(all)-1].Title != fresh.Work || !within(was.Source, f.Source) {
					t.Fatalf("not added, or bytes are lost:\n%s", f.Source)
				}
			case "services":
				v := model.Service{Kind: model.Concert, Date: march(29), Start: 600, Lasts: 60, Playing: 70}
				if f, err = f.AddServices(g.ID, []model.Service{v, v}); err != nil {
					break
				}
				if len(f.Season.Programmes[at.programme].Services) != len(g.Services)+2 || !within(was.Source, f.Source) {
					t.Fatalf("not added, or bytes are lost:\n%s", f.Source)
				}
			case "passages":
				if f, err = f.AddPassages(name, []model.Passage{{Bars: fmt.Sprintf("%d-%d", 100*n+100, 100*n+120), Hard: 3, Exposed: true}, {Bars: fmt.Sprintf("C%d", n), Hard: 2, Minutes: 8}}); err != nil {
					break
				}
				if len(f.Season.Programmes[at.programme].Parts[at.part].Passages) != len(old.Passages)+2 || !within(was.Source, f.Source) {
					t.Fatalf("not added, or bytes are lost:\n%s", f.Source)
				}
			case "estimate":
				m := model.Minutes(200 + 10*n)
				if f, err = f.Reestimate(name, m); err != nil {
					break
				}
				if f.Season.Programmes[at.programme].Parts[at.part].Estimate != m || old.Estimate == 0 && !within(was.Source, f.Source) {
					t.Fatalf("not %v, or bytes are lost:\n%s", m, f.Source)
				}
			case "replace":
				if f, err = f.ReplacePart(name, fresh); err != nil {
					break
				}
				if parts := f.Season.Programmes[at.programme].Parts; len(parts) != len(g.Parts) || parts[at.part].ID != fresh.ID {
					t.Fatalf("not replaced:\n%s", f.Source)
				}
			case "pin":
				had := pinned(f)
				if f, err = f.Pin(session, day); err != nil {
					break
				}
				if !pinned(f) || !had && !within(was.Source, f.Source) {
					t.Fatalf("not pinned, or bytes are lost:\n%s", f.Source)
				}
			case "unpin":
				if !pinned(f) {
					continue
				}
				f, err = f.Unpin(session)
				if err == nil && (pinned(f) || len(f.Season.Pins) > 0 && !within(f.Source, was.Source)) {
					t.Fatalf("still pinned, or bytes were added:\n%s", f.Source)
				}
			}
			if err != nil {
				t.Fatalf("%s of %s: %v\n%s", what, name, err, was.Source)
			}
			if strings.Contains(string(was.Source), "\r\n") && strings.Contains(strings.ReplaceAll(string(f.Source), "\r\n", ""), "\n") {
				t.Fatalf("line ends are mixed:\n%q", f.Source)
			}
			if what != "replace" && what != "unpin" && strings.Count(string(f.Source), "#") < strings.Count(string(was.Source), "#") {
				t.Fatalf("a comment is lost:\n%s", f.Source)
			}
		}
	})
}

func TestReplaceWritesOnlyOverWhatWasRead(t *testing.T) {
	path := filepath.Join(t.TempDir(), "season.yaml")
	text := head + "programmes: [{id: p, services: [{rehearsal: 2027-03-30 10:00, lasts: 60 min}], parts: [{id: a, arrives: 2027-03-01}]}]\n"
	if err := os.WriteFile(path, []byte(text), 0o640); err != nil {
		t.Fatal(err)
	}
	read, err := Read(path)
	if err != nil {
		t.Fatal(err)
	}
	edited, err := read.SetArrival("p/a", march(2))
	if err != nil {
		t.Fatal(err)
	}
	if err := edited.Replace(read); err != nil {
		t.Fatal(err)
	}
	again, err := Read(path)
	if err != nil || again.SHA256 != edited.SHA256 {
		t.Errorf("%v: what was written is not what was edited", err)
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("permissions are %v, %v", info.Mode(), err)
	}
	// The file is now another than the first one read.
	late, err := read.SetArrival("p/a", march(3))
	if err != nil {
		t.Fatal(err)
	}
	if err := late.Replace(read); err == nil || !strings.Contains(err.Error(), "meanwhile") {
		t.Errorf("written over another's change: %v", err)
	}
}

// FuzzEdit: whatever a season file looks like, an edit is made as intended or
// refused, and never panics. That it is the intended one the edit sees to.
func FuzzEdit(f *testing.F) {
	for _, name := range []string{"small.yaml", "demo/season.yaml"} {
		b, err := os.ReadFile(filepath.Join("../../testdata/seasons", name))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b[:min(len(b), 3200)])
	}
	const services = "services: [{rehearsal: 2027-03-30 10:00, lasts: 60 min}]"
	f.Add([]byte(head + "programmes: [{id: p, " + services + ", parts: [{id: a, arrives: 2027-03-01},]}]\npins: [\n {session: p/a/listening, date: '2027-03-04'}, # x\n]"))
	f.Add([]byte(head + "? programmes\n:\n- id: |-\n    p\n  " + services + "\n  parts:\n  - arrives: >-\n      2027-03-01\n    id: \"a\"\n"))
	f.Add([]byte("{title: T, time_zone: Europe/Oslo, from: 2027-03-01, to: 2027-03-31, \"programmes\":[{\"id\":\"p\"," + services + ",\"parts\":[{\"id\":\"a\",\"arrives\":\"2027-03-01\"}]}]}"))
	f.Fuzz(func(t *testing.T, b []byte) {
		if strings.Contains(string(b), "_from") {
			return // other files are not the fuzzer's to choose
		}
		read, err := Parse("season.yaml", b)
		if err != nil {
			return
		}
		_, _ = read.PlayOn(read.Season.From)
		_, _ = read.SetCaps([]model.Date{read.Season.From}, []model.Minutes{90})
		for i := range read.Season.Programmes {
			g := &read.Season.Programmes[i]
			p := model.Part{ID: "zz", Work: "New: one", Arrives: read.Season.From, ReadThrough: 10, Estimate: 30, Passages: []model.Passage{{Bars: "1-8", Hard: 1}}}
			if got, err := read.AddPart(g.ID, p); err == nil && !within(b, got.Source) {
				t.Fatalf("bytes are lost:\n%s", got.Source)
			}
			for _, q := range g.Parts {
				name := model.PartName(g.ID, q.ID)
				if got, err := read.SetArrival(name, read.Season.From); err == nil && got.SHA256 != read.SHA256 && len(got.Season.Programmes) != len(read.Season.Programmes) {
					t.Fatal("a programme is lost")
				}
				_, _ = read.ReplacePart(name, p)
				// An edit is read again, and refused where it is not the one that was meant.
				_, _ = read.SetEstimate(name, 90)
				for _, v := range q.Passages {
					passage := []string{model.PassageName(name, v.ID)}
					_, _ = read.LeavePassages(passage)
					_, _ = read.SetDaily(passage)
				}
				session := model.StageID(name, model.ReadStage)
				if got, err := read.Pin(session, q.Arrives); err == nil {
					if _, err := got.Unpin(session); err != nil {
						t.Fatalf("pinned and not to be freed: %v\n%s", err, got.Source)
					}
				}
			}
		}
	})
}

package ical

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"sort"
	"strings"
	"testing"
	"time"

	"primaprova/model"
)

// Plans around changes of clocks in many zones, read by icalendar, vobject and
// recurring-ical-events: the same events at the same instants as the plan. Each
// file is read again under a zone name that no reader knows (and another one
// each time, as they remember them), so that the file's own description of the
// zone is what counts.
func TestReadersAgreeWithThePlan(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	type file struct {
		name    string
		want    map[string]event
		vobject bool
	}
	var files []file
	var q request
	add := func(name, text string, want map[string]event, vobject bool) {
		files = append(files, file{name, want, vobject})
		q.Parse = append(q.Parse, text)
	}
	for _, c := range published {
		d, start := parse(t, c.date, c.clock)
		at, err := time.Parse(utcForm, c.want)
		if err != nil {
			t.Fatal(err)
		}
		s := skerry(c.zone, d)
		p := &model.Plan{From: s.From, To: s.To, Sessions: []model.Session{
			{ID: "tide/slate/listening", Date: d, Start: &start, Ends: ptr(start + 1), Minutes: 1, Stage: model.ListeningStage, Part: "tide/slate"}}}
		add(c.zone+" "+c.name, written(t, s, p, Options{}), map[string]event{"tide/slate/listening": {ID: "tide/slate/listening",
			Alarms: []string{}, Status: "CONFIRMED", Stamp: told(d.Time()), Start: c.want, End: told(at.Add(time.Minute))}}, true)
	}
	for k, c := range changesNear {
		s := skerry(c.zone, dated(t, c.date)-10)
		for j := range 3 {
			p := drawn(r, s, dated(t, c.date), j != 2)
			p.Follow(drawn(r, s, dated(t, c.date), j != 2))
			text := written(t, s, p, calls)
			add(name(c.zone, 10*k+j), text, wanted(t, s, p), true)
			if strings.Contains(text, "BEGIN:VTIMEZONE") {
				// vobject compares an unknown zone with UTC from 2000 to 2020,
				// takes one that begins with GMT for UTC, and then drops it.
				gmt := c.zone == "Europe/London" || c.zone == "Europe/Dublin"
				add(name(c.zone, 10*k+j)+" by its own rules", strings.ReplaceAll(text, c.zone, fmt.Sprintf("Skerry/Light-%d", 10*k+j)), wanted(t, s, p), !gmt)
			}
		}
	}
	answers := ask(t, q).Parse
	for i, f := range files {
		readers := map[string][]event{"icalendar": answers[i].Icalendar}
		if f.vobject {
			readers["vobject"] = answers[i].Vobject
		}
		for reader, events := range readers {
			if len(events) != len(f.want) {
				t.Errorf("%s, %s: %d events, want %d", f.name, reader, len(events), len(f.want))
			}
			for _, got := range events {
				want := f.want[got.ID]
				bare := got
				bare.UID, bare.Summary, bare.Description, bare.Categories = "", "", "", nil
				if !reflect.DeepEqual(bare, want) {
					t.Errorf("%s, %s:\ngot  %+v\nwant %+v", f.name, reader, bare, want)
				}
			}
		}
		if f.vobject && !reflect.DeepEqual(answers[i].Icalendar, answers[i].Vobject) {
			t.Errorf("%s: icalendar and vobject differ in the words", f.name)
		}
		var want [][3]string
		for _, e := range answers[i].Icalendar {
			want = append(want, [3]string{e.UID, f.want[e.ID].Start, f.want[e.ID].End})
		}
		sort.Slice(want, func(a, b int) bool { return want[a][0] < want[b][0] })
		if !reflect.DeepEqual(answers[i].Recurrences, want) {
			t.Errorf("%s, recurring-ical-events:\n%v\nwant\n%v", f.name, answers[i].Recurrences, want)
		}
		for _, z := range answers[i].Zones {
			at, err := time.Parse(utcForm, z[0].(string))
			if err != nil {
				t.Fatal(err)
			}
			zone := load(t, strings.Fields(f.name)[0])
			if _, offset := at.In(zone).Zone(); offset != int(z[1].(float64)) {
				t.Errorf("%s: the file says %v from %v on, the zone has %d", f.name, z[1], z[0], offset)
			}
		}
	}
	t.Logf("%d files", len(files))
}

// What players read comes through every reader as it was meant, and the UIDs
// are those that Python's uuid makes.
func TestReadersAgreeWithTheWords(t *testing.T) {
	d := model.NewDate(2026, 3, 20)
	s := skerry("Europe/Oslo", d)
	work := s.Programmes[0].Parts[0].Work
	s.Programmes[0].Parts[0].Passages[0].Hard, s.Programmes[0].Parts[0].Passages[0].Tempo.Goal = 2, 96
	p := &model.Plan{From: s.From, To: s.To, Calendar: "ab", Sessions: []model.Session{
		{ID: "tide/slate/45-61/visit-3", Date: d, Start: ptr(model.Clock(75)), Ends: ptr(model.Clock(85)), Minutes: 10, Playing: true,
			Stage: model.PassageStage, Part: "tide/slate", Passage: ptr("tide/slate/45-61"), Visit: ptr(3), Visits: ptr(3)},
		{ID: "warm-up/2026-03-20", Date: d, Start: ptr(model.Clock(60)), Ends: ptr(model.Clock(75)), Minutes: 15, Playing: true, Stage: model.WarmUpStage},
		{ID: "tide/slate/listening", Date: d + 1, Start: ptr(model.Clock(60)), Ends: ptr(model.Clock(80)), Minutes: 20, Stage: model.ListeningStage, Part: "tide/slate"},
	}, Cancelled: []model.Cancelled{{ID: "tide/slate/coda/visit-2", Date: d, Minutes: 10, Sequence: 1}},
		ChangedDays: []model.ChangedDay{{Date: d, Sequence: 2}, {Date: d + 5, Sequence: 1}}}
	visit, listening := "slate 45-61, at 66-84 of 96 (3/3)", "slate listening"
	told := visit + ", exposed, 10 min: once at 84 and no faster; then what failed"
	heard := listening + ", 20 min: instrument in its case; mark tempos and exposed places"
	works := "slate = " + work + "; A Tide, tables, first rehearsal on Thu 9 Apr."
	wantSessions := []event{
		{ID: "warm-up/2026-03-20", Summary: "Warm-up", Description: "Warm-up, 15 min: short, easy, under tempo\n\n" + caution, Categories: []string{"warm-up"}},
		{ID: "tide/slate/45-61/visit-3", Summary: visit, Description: told + "\nDoes it stick? Record it when it does not.\n" + works,
			Categories: []string{"Tide, tables", "passage"}},
		{ID: "tide/slate/listening", Summary: listening, Description: heard + "\n" + works, Categories: []string{"Tide, tables", "listening"}},
		{ID: "tide/slate/coda/visit-2", Summary: "Cancelled: " + work + ", coda, visit 2", Categories: []string{}},
	}
	wantDays := []event{
		{ID: "day/2026-03-20", Sequence: 2, Summary: "slate 10 min (25 min playing)",
			Description: "01:00 Warm-up, 15 min: short, easy, under tempo\n01:15 " + told + "\n\n" + works + "\n\n" + caution, Categories: []string{"Tide, tables"}},
		{ID: "day/2026-03-21", Summary: "slate 20 min (20 min listening)", Description: "01:00 " + heard + "\n\n" + works, Categories: []string{"Tide, tables"}},
		{ID: "day/2026-03-25", Sequence: 1, Summary: "Cancelled: practice", Categories: []string{}},
	}
	q := request{Parse: []string{written(t, s, p, Options{}), written(t, s, p, Options{Entries: Days})}}
	for _, e := range append(append([]event(nil), wantSessions...), wantDays...) {
		q.UIDs = append(q.UIDs, [2]string{"ab", e.ID})
	}
	a := ask(t, q)
	for i, want := range [][]event{wantSessions, wantDays} {
		for reader, got := range map[string][]event{"icalendar": a.Parse[i].Icalendar, "vobject": a.Parse[i].Vobject} {
			if len(got) != len(want) {
				t.Errorf("%s: %d events, want %d", reader, len(got), len(want))
				continue
			}
			for k, g := range got {
				w := want[k]
				uid := a.UIDs[i*len(wantSessions)+k]
				if g.ID != w.ID || g.UID != uid || g.Summary != w.Summary || g.Description != w.Description || fmt.Sprint(g.Categories) != fmt.Sprint(w.Categories) {
					t.Errorf("%s:\ngot  %+v\nwant %+v\nwith UID %s", reader, g, w, uid)
				}
				if i == 1 && (g.Sequence != w.Sequence || g.Start != strings.TrimPrefix(w.ID, "day/")) {
					t.Errorf("%s: %+v", reader, g)
				}
			}
		}
	}
}

// Calendars that took in some of a chain of plans, in order, by UID and
// SEQUENCE show the last plan and nothing else; by sessions, blocks and days.
func TestEarlierThenLater(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	var q request
	for k := range 36 {
		c := changesNear[k%len(changesNear)]
		s := skerry(c.zone, dated(t, c.date)-10)
		entries := []Entries{Sessions, Days, Blocks}[k/3%3]
		var chain []string
		var earlier *model.Plan
		for j := range 5 {
			p := drawn(r, s, dated(t, c.date), k%3 != 0)
			if earlier != nil {
				// Mostly what stood, so that there is something to keep.
				for i := range p.Sessions {
					for _, e := range earlier.Sessions {
						if e.ID == p.Sessions[i].ID && r.IntN(3) > 0 {
							p.Sessions[i] = e
						}
					}
				}
			}
			p.Follow(earlier)
			earlier = p
			if j == 4 || r.IntN(2) == 0 {
				chain = append(chain, written(t, s, p, Options{Entries: entries}))
			}
		}
		only := written(t, s, earlier, Options{Entries: entries, NoCancelled: true})
		q.Apply = append(q.Apply, chain, []string{only})
	}
	a := ask(t, q).Apply
	for k := 0; k < len(a); k += 2 {
		if len(a[k+1]) == 0 {
			t.Errorf("chain %d: an empty calendar shows nothing", k/2)
		}
		if !reflect.DeepEqual(a[k], a[k+1]) {
			t.Errorf("chain %d of %d files: the calendar shows\n%v\nthe plan is\n%v", k/2, len(q.Apply[k]), a[k], a[k+1])
		}
	}
}

// odd are characters that some reader, or some step of writing, could stumble
// over: what is escaped, what looks like escapes, what other standards take for
// the end of a line, what has no width, what takes four octets.
var odd = []string{"\\", ",", ";", ":", "\"", "\n", "\\n", "\\N", "\\,", "\t", " ", "  ", "=", "^", "^n", "'", "%", "&", "<", "{", "a", "é", "e\u0301",
	"Ω", "ж", "旋", "\u00a0", "\u00ad", "\u200b", "\u200f", "\u2028", "\u2029", "\u0085", "\ufeff", "\ufffd", "🎻", "👩\u200d🎤", "\u202e", "\U0010fffd"}

// Titles of odd characters, at every place where a line may fold, come through
// every reader as they are.
func TestReadersAgreeWithOddCharacters(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	var q request
	var works []string
	for k := range 60 {
		s, p := week()
		work := "x"
		for range 40 + k {
			work += odd[r.IntN(len(odd))]
		}
		work += "x" // blanks at the ends are nobody's concern
		s.Title, s.Programmes[0].Title, s.Programmes[0].Parts[0].Work = work, work, work
		works = append(works, work)
		q.Parse = append(q.Parse, written(t, s, p, Options{Entries: Sessions, Alarm: ptr(model.Minutes(0))}))
	}
	for k, a := range ask(t, q).Parse {
		for reader, events := range map[string][]event{"icalendar": a.Icalendar, "vobject": a.Vobject} {
			if len(events) != 5 {
				t.Errorf("%s: %d events", reader, len(events))
				continue
			}
			e := events[0]
			if e.Summary != "slate listening" || !strings.HasSuffix(e.Description, "\nslate = "+plain(works[k])+"; A "+plain(works[k])+", first rehearsal on Tue 30 Mar.") || len(e.Alarms) != 1 || e.Alarms[0] != e.Start {
				t.Errorf("%s:\ngot  %q\n     %q %v\nwant %q", reader, e.Summary, e.Description, e.Alarms, works[k])
			}
		}
	}
}

package ical

import (
	"strings"
	"testing"
	"time"

	"primaprova/model"
)

func TestBlocksAndAlarms(t *testing.T) {
	s, p := week()
	p.ChangedDays = []model.ChangedDay{{Date: s.From + 1, Sequence: 3, Blocks: 2}, {Date: s.From + 3, Sequence: 1, Blocks: 1}}
	text := written(t, s, p, Options{Entries: Blocks, Alarm: ptr(model.Minutes(75)), ByProgramme: true})
	for what, want := range map[string]int{
		"BEGIN:VEVENT": 5, // three days of one block each, one block less on the second, none on the fourth
		"X-PRIMAPROVA-ID:block/2027-03-25/1\r\nSUMMARY:warm-up\\; slate 45-61 (25 min)\r\n":      1,
		"SEQUENCE:3\r\nX-PRIMAPROVA-ID:block/2027-03-25/2\r\nSUMMARY:Cancelled: practice":        1,
		"X-PRIMAPROVA-ID:block/2027-03-27/1\r\nSUMMARY:Cancelled: practice\r\n":                  1,
		"DTSTART;TZID=Europe/Oslo:20270325T093000\r\nDTEND;TZID=Europe/Oslo:20270325T095500\r\n": 1,
		"TRIGGER:-PT1H15M\r\n":       3,
		"COLOR:royalblue\r\n":        3,
		"CATEGORIES:Tide tables\r\n": 3,
	} {
		if got := strings.Count(text, what); got != want {
			t.Errorf("%q %d times, want %d\n%s", what, got, want, text)
		}
	}
	// One caution a day of playing, and one of the calendar, whatever an entry is.
	for _, entries := range []Entries{Sessions, Blocks, Days} {
		unfolded := strings.ReplaceAll(written(t, s, p, Options{Entries: entries}), "\r\n ", "")
		want := map[Entries]int{Sessions: 2, Blocks: 3, Days: 3}[entries] // the second day of playing has no warm-up
		if n := strings.Count(unfolded, "promises no safety"); n != want {
			t.Errorf("entries %d: the caution stands %d times, not %d, for 2 days of playing", entries, n, want)
		}
	}
	// The warm-up and the visit after it are one block: one alarm.
	if got := strings.Count(written(t, s, p, Options{Alarm: ptr(model.Minutes(10))}), "TRIGGER:-PT10M\r\n"); got != 3 {
		t.Errorf("%d alarms of sessions, want 3", got)
	}
	if text := written(t, s, p, Options{Alarm: ptr(model.Minutes(10)), Entries: Days}); strings.Contains(text, "VALARM") {
		t.Error("an alarm before midnight")
	}
	// On the 28th the clocks go forward: half past seven comes an hour sooner.
	text = written(t, s, p, Options{DayAlarm: ptr(model.Clock(450)), Entries: Days})
	if strings.Count(text, "TRIGGER:PT7H30M\r\n") != 2 || strings.Count(text, "TRIGGER:PT6H30M\r\n") != 1 {
		t.Errorf("alarms of days:\n%s", text)
	}
}

// A full day's block is named by its parts with their minutes: what would be cut off
// in a calendar is no name. Every programme has the colour of its look.
func TestNamesOfBlocks(t *testing.T) {
	s, p := week()
	w := newWords(s, p, nil, model.DefaultLocale())
	visit := func(bars string) *model.Session {
		return &model.Session{ID: "x/" + bars, Minutes: 10, Playing: true, Stage: model.PassageStage, Part: "tide/slate", Passage: ptr("tide/slate/" + bars)}
	}
	few := []*model.Session{visit("45-61"), visit("II 101-122"), {ID: "y", Minutes: 20, Stage: model.ListeningStage, Part: "gone/away"}}
	if got, want := w.block(few), "slate 45-61, II 101-122; gone/away listening (40 min)"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	many := few
	for range 9 {
		many = append(many, visit("IV 1201-1222"))
	}
	if got, want := w.block(many), "slate 110 min, gone/away 20 min (110 min playing, 20 min listening)"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	for i, look := range s.Looks() {
		if text := written(t, s, p, Options{ByProgramme: true}); !strings.Contains(text, "COLOR:"+model.Tones[look.Tone].CSS+"\r\n") {
			t.Errorf("programme %d has not its colour", i)
		}
	}
}

func TestServicesAndRefresh(t *testing.T) {
	s, p := week()
	s.Programmes[0].Services = append(s.Programmes[0].Services, model.Service{Kind: model.Concert, Date: s.To + 9, Start: 1140, Lasts: 100, Playing: 70})
	text := written(t, s, p, Options{Services: true, Refresh: 90 * time.Minute, Alarm: ptr(model.Minutes(10))})
	for what, want := range map[string]int{
		"BEGIN:VEVENT": 7,
		"SUMMARY:First rehearsal: Tide tables\r\n":                                               1,
		"SUMMARY:Concert: Tide tables\r\n":                                                       1,
		"DTSTART;TZID=Europe/Oslo:20270408T190000\r\nDTEND;TZID=Europe/Oslo:20270408T204000\r\n": 1,
		"DESCRIPTION:Symphony in Slate\\n100 min\\, 70 min of them playing.\r\n":                 1,
		"REFRESH-INTERVAL;VALUE=DURATION:PT1H30M\r\n":                                            1,
		"BEGIN:VALARM": 3, // services have none
	} {
		if got := strings.Count(text, what); got != want {
			t.Errorf("%q %d times, want %d\n%s", what, got, want, text)
		}
	}
}

func TestOnly(t *testing.T) {
	s, p := week()
	ids := func(o Options) string {
		var out []string
		for _, line := range strings.Split(written(t, s, p, o), "\r\n") {
			if id, ok := strings.CutPrefix(line, "X-PRIMAPROVA-ID:"); ok {
				out = append(out, id)
			}
		}
		return strings.Join(out, " ")
	}
	d := s.From
	for _, c := range []struct {
		name, want string
		o          Options
	}{
		{"one part", "tide/slate/listening tide/slate/45-61/visit-1 tide/slate/45-61/visit-2", Options{Only: Only{Part: "tide/slate"}}},
		{"another part", "", Options{Only: Only{Part: "tide/sla"}, Services: true}},
		{"its programme", "tide/slate/listening tide/slate/45-61/visit-1 tide/slate/45-61/visit-2 service/tide/2027-03-30/10:00", Options{Only: Only{Programme: "tide"}, Services: true}},
		{"another programme", "", Options{Only: Only{Programme: "tid"}, Services: true}},
		{"a range", "warm-up/2027-03-25 tide/slate/45-61/visit-1 warm-up/2027-03-27", Options{Only: Only{From: d + 1, To: d + 3}, Services: true}},
		{"from a day on", "tide/slate/45-61/visit-2 service/tide/2027-03-30/10:00", Options{Only: Only{From: d + 4}, Services: true}},
		{"days of a part", "day/2027-03-24/tide/slate day/2027-03-25/tide/slate day/2027-03-28/tide/slate day/2027-03-27/tide/slate", Options{Only: Only{Part: "tide/slate"}, Entries: Days}},
	} {
		if got := ids(c.o); got != c.want {
			t.Errorf("%s: %s\nwant %s", c.name, got, c.want)
		}
	}
	for want, only := range map[string]Only{": Symphony in Slate\r\n": {Part: "tide/slate"}, ": Tide tables\r\n": {Programme: "tide"}, "coast\r\n": {From: d}} {
		if text := written(t, s, p, Options{Only: only}); !strings.Contains(text, "NAME:A week on the Skerry coast"+strings.TrimPrefix(want, "coast")) {
			t.Errorf("%+v: no name that ends in %q", only, want)
		}
	}
}

// RFC 5545, section 3.3.6.
func TestDurations(t *testing.T) {
	for d, want := range map[time.Duration]string{0: "PT0S", 10 * time.Minute: "PT10M", -90 * time.Minute: "PT1H30M",
		24 * time.Hour: "P1D", 49*time.Hour + time.Minute: "P2DT1H1M", 7 * 24 * time.Hour: "P7D"} {
		if got := duration(d); got != want {
			t.Errorf("%v: %s, want %s", d, got, want)
		}
	}
}

package seasonfile

import (
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"primaprova/model"
)

// readBeside reads a season of March 2027 in Oslo, with more keys, beside files.
func readBeside(t *testing.T, keys string, files map[string]string) (*File, error) {
	t.Helper()
	dir := t.TempDir()
	files["season.yaml"] = "title: T\ntime_zone: Europe/Oslo\nfrom: 2027-03-01\nto: 2027-03-31\n" + keys
	if !strings.Contains(keys, "programmes:") {
		files["season.yaml"] += "programmes: [{id: p, services: [{rehearsal: 2027-03-31 10:00, lasts: 60 min}, {concert: 2027-03-31 19:30, lasts: 60 min}], parts: [{id: a, arrives: 2027-03-01, estimate: 30}]}]\n"
	}
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	f, err := Read(filepath.Join(dir, "season.yaml"))
	if err != nil {
		return nil, fmt.Errorf("%s", strings.ReplaceAll(err.Error(), dir+string(filepath.Separator), ""))
	}
	for i := range f.Warnings {
		f.Warnings[i].File = filepath.Base(f.Warnings[i].File)
	}
	return f, nil
}

func events(list ...string) string {
	var b strings.Builder
	b.WriteString("BEGIN:VCALENDAR\r\nVERSION:2.0\r\n")
	for i, e := range list {
		b.WriteString(strings.ReplaceAll(fmt.Sprintf("BEGIN:VEVENT\nUID:%d\n%s\nEND:VEVENT\n", i, e), "\n", "\r\n"))
	}
	return b.String() + "END:VCALENDAR\r\n"
}

// TestBusy: what calendars take of the hours. The clocks of Oslo go forward on
// 28 March 2027 at two.
func TestBusy(t *testing.T) {
	const lesson = "SUMMARY:Lesson\nDTSTART;TZID=Europe/Oslo:20270303T150000\nDURATION:PT1H"
	for _, c := range []struct {
		name, busy string
		events     []string
		want       string
	}{
		{"a lesson", "[b.ics]", []string{lesson}, "2027-03-03 15:00-16:00"},
		{"with the way", "[{file: b.ics, before: 20 min, after: 30 min}]", []string{lesson}, "2027-03-03 14:40-16:30"},
		{"over midnight", "[b.ics]", []string{"DTSTART:20270305T210000Z\nDURATION:PT5H"}, "2027-03-05 22:00-24:00, 2027-03-06 00:00-03:00"},
		{"a whole day", "[b.ics]", []string{"DTSTART;VALUE=DATE:20270305", lesson}, "2027-03-03 15:00-16:00, 2027-03-05 00:00-24:00"},
		{"a whole day elsewhere", "[{file: b.ics, time_zone: America/New_York}]", []string{"DTSTART;VALUE=DATE:20270305\nDTEND;VALUE=DATE:20270307"}, "2027-03-05 00:00-24:00, 2027-03-06 00:00-24:00"},
		{"whole days free", "[{file: b.ics, whole_days: free}]", []string{"DTSTART;VALUE=DATE:20270305", lesson}, "2027-03-03 15:00-16:00"},
		{"with seconds, counted whole", "[b.ics]", []string{"DTSTART:20270305T080010\nDTEND:20270305T090001"}, "2027-03-05 08:00-09:01"},
		{"transparent, cancelled, outside", "[b.ics]", []string{lesson + "\nTRANSP:TRANSPARENT", lesson + "\nSTATUS:CANCELLED", "DTSTART:20260305T080010\nDTEND:20260305T090001"}, ""},
		{"the day of 23 hours", "[b.ics]", []string{"DTSTART;TZID=Europe/Oslo:20270328T010000\nDTEND;TZID=Europe/Oslo:20270328T040000"}, "2027-03-28 01:00-04:00"},
		{"twice the same", "[b.ics, {file: b.ics}]", []string{lesson}, "2027-03-03 15:00-16:00"},
		{"weekly", "[b.ics]", []string{lesson + "\nRRULE:FREQ=WEEKLY;INTERVAL=2"}, "2027-03-03 15:00-16:00, 2027-03-17 15:00-16:00, 2027-03-31 15:00-16:00"},
	} {
		f, err := readBeside(t, "hours: {every day: [09:00-21:00]}\nbusy: "+c.busy+"\n", map[string]string{"b.ics": events(c.events...)})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		var got []string
		for _, b := range f.Season.Busy {
			got = append(got, fmt.Sprintf("%v %v", b.Date, b.Span))
		}
		if s := strings.Join(got, ", "); s != c.want {
			t.Errorf("%s: %s; want %s", c.name, s, c.want)
		}
	}
}

// TestSpreadOverClockChanges: on the day on which the clocks of Oslo are put
// back, 31 October 2027, the hour from two to three comes twice. Nothing busy
// may be taken for free.
func TestSpreadOverClockChanges(t *testing.T) {
	zone, err := time.LoadLocation("Europe/Oslo")
	if err != nil {
		t.Fatal(err)
	}
	midnight := time.Date(2027, 10, 30, 22, 0, 0, 0, time.UTC)
	for from := 0; from < 300; from += 7 {
		for to := from + 1; to < 320; to += 11 {
			a, b := midnight.Add(time.Duration(from)*time.Minute), midnight.Add(time.Duration(to)*time.Minute)
			list := spread(a, b, zone, &model.Season{From: model.DateIn(a, zone), To: model.DateIn(b, zone)})
			if len(list) != 1 {
				t.Fatalf("%v to %v: %v", a, b, list)
			}
			for at := a; at.Before(b); at = at.Add(time.Minute) {
				if c := clockIn(at, zone, list[0].date); c < list[0].span.From || c >= list[0].span.To {
					t.Fatalf("%v to %v is %v, without %v", a, b, list[0].span, c)
				}
			}
			if max := model.Clock(60 + to - from); list[0].span.To-list[0].span.From > 2*max {
				t.Fatalf("%v to %v is %v", a, b, list[0].span)
			}
		}
	}
}

// TestWholeDaysAreSaid: whoever does not say what entries of whole days mean is
// told of them.
func TestWholeDaysAreSaid(t *testing.T) {
	ics := events("SUMMARY:Birthday\nDTSTART;VALUE=DATE:20270305\nRRULE:FREQ=WEEKLY;COUNT=2", "SUMMARY:Fair\nDTSTART;VALUE=DATE:20270307")
	for busy, want := range map[string]string{
		"[b.ics]": `b.ics:3: "Birthday": warning: takes the whole day (2 times, 2027-03-05..2027-03-12)
  try: whole_days: free in busy, where such entries take none; whole_days: busy where they do`,
		"[{file: b.ics, whole_days: busy}]": "", "[{file: b.ics, whole_days: free}]": ""} {
		f, err := readBeside(t, "hours: {every day: [09:00-21:00], sunday: []}\nbusy: "+busy+"\n", map[string]string{"b.ics": ics})
		if err != nil {
			t.Fatal(err)
		}
		if got := Text(f.Warnings); got != want {
			t.Errorf("%s: said %s", busy, got)
		}
	}
}

func TestBusyFaults(t *testing.T) {
	const hours = "hours: {every day: [09:00-21:00]}\n"
	good := events("DTSTART:20270305T080000\nDURATION:PT1H")
	for _, c := range []struct{ keys, ics, want string }{
		{"busy: [b.ics]\n", good, "season.yaml:5: busy: says when not to play, but no hours say when to: days are planned, not hours"},
		{hours + "busy: [c.ics]\n", good, `season.yaml:6: busy: entry 1: "c.ics": there is no such file`},
		{hours + "busy: [.]\n", good, `season.yaml:6: busy: entry 1: ".": is a directory, not a file`},
		{hours + "busy: b.ics\n", good, "season.yaml:6: busy: \"b.ics\": expected a list, found a single value"},
		{hours + "busy: [{file: b.ics, whole_days: sometimes}]\n", good, `season.yaml:6: busy: entry 1: whole_days: "sometimes": is not busy or free`},
		{hours + "busy: [{file: b.ics, before: 13 h}]\n", good, `season.yaml:6: busy: entry 1: before: "13 h": is longer than half a day`},
		{hours + "busy: [b.ics]\n", "", `season.yaml:6: busy: entry 1: "b.ics": is empty`},
		{hours + "busy: [b.ics]\n", "\x89PNG\x00", `b.ics:1: is not an iCalendar file: it holds bytes that no text has`},
		{hours + "busy: [b.ics]\n", strings.TrimSuffix(good, "END:VCALENDAR\r\n"), `b.ics: is cut off: it does not end with END:VCALENDAR`},
		{hours + "busy: [b.ics]\n", strings.Repeat("BEGIN:VCALENDAR\r\n", 2<<20), `season.yaml:6: busy: entry 1: "b.ics": is larger than 32 MiB, which no calendar of a player is`},
		{"limits: {latest: \"21:00\"}\n", good, "season.yaml:5: limits.latest: says when not to play"},
		{hours + "limits: {latest: 9pm}\n", good, `season.yaml:6: limits.latest: "9pm": is not a time of day like 21:00`},
		{hours + "limits: {quiet: {every day: [20:00-19:00]}}\n", good, `season.yaml:6: limits.quiet.every day: entry 1: "20:00-19:00": ends before it begins`},
		{hours + "limits: {return: {after: 14 days, start: 3}}\n", good, `season.yaml:6: limits.return.start: this key is not known`},
		{"habits: {listening_hours: {every day: [20:00-21:00]}}\n", good, "season.yaml:5: habits.listening_hours: says when to listen"},
		{hours + "habits: {listening_hours: {every day: [20:00-19:00]}}\n", good, `season.yaml:6: habits.listening_hours.every day: entry 1: "20:00-19:00": ends before it begins`},
		{hours + "habits: {part_changes: mixd}\n", good, `season.yaml:6: habits.part_changes: "mixd": is not mixed, few or one work at a time`},
		{hours + "limits: {before_concert: 120 %}\n", good, `season.yaml:6: limits.before_concert: "120": is more than 100`},
	} {
		_, err := readBeside(t, c.keys, map[string]string{"b.ics": c.ics})
		if err == nil || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("%q: %v; want %s", c.keys, err, c.want)
		}
	}
}

// TestBusyPlaying: what is played in entries of a calendar counts with what the list
// names, and without hours too.
func TestBusyPlaying(t *testing.T) {
	ics := events("DTSTART:20270305T080000\nDURATION:PT1H")
	for keys, want := range map[string]model.Minutes{
		"busy: [{file: b.ics, playing: 50 %}]\n": 30,
		"busy: [{file: b.ics, playing: 50 %}]\nother_playing: [{title: Lesson, on: [2027-03-05], lasts: 20 min, playing: 50 %}]\n": 40,
	} {
		for _, hours := range []string{"", "hours: {every day: [09:00-21:00]}\n"} {
			f, err := readBeside(t, hours+keys, map[string]string{"b.ics": ics})
			if err != nil {
				t.Fatal(err)
			}
			if got := f.Season.RoomOn(f.Season.From + 4).Other; got != want {
				t.Errorf("%s%s: %d min of other playing, want %d", hours, keys, got, want)
			}
		}
	}
}

// TestEmptyCells: whatever parts the cells of a table, an empty one stays one.
func TestEmptyCells(t *testing.T) {
	for _, between := range []string{",", ";", "\t"} {
		var got [][]string
		r := &reader{}
		table := strings.Join([]string{"id", "work", "estimate"}, between) + "\n" + strings.Join([]string{"slate", "", " 30 min"}, between) + "\n"
		r.rows("parts.csv", []byte(table), "parts", func(cells []field) bool {
			var row []string
			for _, c := range cells {
				row = append(row, c.value)
			}
			got = append(got, row)
			return true
		})
		if want := [][]string{{"id", "work", "estimate"}, {"slate", "", "30 min"}}; !reflect.DeepEqual(got, want) {
			t.Errorf("between cells %q: %q", between, got)
		}
	}
}

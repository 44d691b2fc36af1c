package calendar

import (
	"strings"
	"testing"
	"time"
)

// FuzzRead: no calendar makes the reader panic or loop, and what happens lies
// in the span asked for. What is done for one is bounded: by the work that is granted
// to a file, where more of it is a fault and never a silence, and by what it may
// take from the heap, all in all.
func FuzzRead(f *testing.F) {
	for _, s := range []string{
		"SUMMARY:Rehearsal\nDTSTART;TZID=Europe/Oslo:20270602T100000\nDTEND;TZID=Europe/Oslo:20270602T123000",
		"SUMMARY:Concert\nDTSTART:20270602T100000Z\nDURATION:PT2H\nRRULE:FREQ=WEEKLY;COUNT=3;BYDAY=TU,SU;WKST=MO",
		"SUMMARY:Concert\nDTSTART:00010102T100000Z\nDURATION:PT2H\nRRULE:FREQ=DAILY;INTERVAL=0",
		"DTSTART;TZID=\"a:b\";X=:\nRDATE;VALUE=PERIOD:20270602T100000Z/PT1H,x",
		"RRULE:FREQ=MONTHLY;BYMONTHDAY=31;BYMONTH=2;DTSTART=1",
		"UID:a\nDTSTART:20270602T100000\nDURATION:PT2H\nRRULE:FREQ=HOURLY;INTERVAL=24;BYHOUR=5\nEXDATE;VALUE=DATE:20270603",
		"UID:a\nRECURRENCE-ID;RANGE=THISANDFUTURE:20270602T100000\nDTSTART;VALUE=DATE:20270602\nDURATION:P2W",
		"DTSTART:20270602T100000\nDURATION:PT2H\nRRULE:FREQ=YEARLY;BYWEEKNO=-1;BYDAY=-1MO;BYSETPOS=-1;BYHOUR=1,2,3",
	} {
		f.Add("BEGIN:VCALENDAR\nBEGIN:VEVENT\n" + s + "\nEND:VEVENT\nEND:VCALENDAR\n")
	}
	f.Add("BEGIN:VCALENDAR\nBEGIN:VTIMEZONE\nTZID:x\nBEGIN:STANDARD\nDTSTART:16010101T030000\nRRULE:FREQ=YEARLY;BYDAY=-1SU;BYMONTH=10\nTZOFFSETFROM:+0200\nTZOFFSETTO:+0100\nEND:STANDARD\nEND:VTIMEZONE\nBEGIN:VFREEBUSY\nFREEBUSY:20270602T100000Z/PT1H\nEND:VFREEBUSY\nEND:VCALENDAR")
	o := Options{From: time.Date(2027, 1, 11, 0, 0, 0, 0, time.UTC), To: time.Date(2027, 10, 17, 0, 0, 0, 0, time.UTC), Zone: time.UTC}
	f.Fuzz(func(t *testing.T, s string) {
		var got []Occurrence
		var faults []Fault
		r := newFile(o)
		took := allocated(func() { got, faults = r.read(strings.NewReader(s)) })
		if r.left < 0 && len(faults) == 0 || len(s) < 100_000 && took > 64<<20 {
			t.Fatalf("%d left to do, %d MiB taken, %v", r.left, took>>20, faults)
		}
		if len(faults) > mostFaults+1 || len(faults) > 0 && len(got) > 0 {
			t.Fatalf("%d faults, %d occurrences", len(faults), len(got))
		}
		for _, w := range faults {
			if w.Text == "" {
				t.Fatal("a fault without words")
			}
		}
		for i, v := range got {
			if v.To.Before(v.From) || !v.From.Before(o.To) || v.To.Before(o.From) || i > 0 && v.From.Before(got[i-1].From) {
				t.Fatalf("%v to %v", v.From, v.To)
			}
		}
	})
}

package calendar

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

// wrapped makes a calendar of events, each without its BEGIN and END; what
// begins with BEGIN stands as it is.
func wrapped(events ...string) string {
	var b strings.Builder
	b.WriteString("BEGIN:VCALENDAR\nVERSION:2.0\nPRODID:-//Skerry//EN\n")
	for i, e := range events {
		switch {
		case strings.HasPrefix(e, "BEGIN:"):
			b.WriteString(e + "\n")
			continue
		case !strings.Contains(e, "UID:"):
			e = fmt.Sprintf("UID:%d\n", i) + e
		}
		b.WriteString("BEGIN:VEVENT\n" + e + "\nEND:VEVENT\n")
	}
	b.WriteString("END:VCALENDAR\n")
	return strings.ReplaceAll(b.String(), "\n", "\r\n")
}

const oslo = ";TZID=Europe/Oslo:"

// happenings are calendars with what is busy, in UTC, by the RFC; Oslo is an
// hour ahead of it in winter and two in summer.
var happenings = []struct {
	name   string
	events []string
	want   string
}{
	{"opaque, transparent, cancelled", []string{
		"DTSTART" + oslo + "20270602T100000\nDTEND" + oslo + "20270602T120000",
		"DTSTART" + oslo + "20270603T100000\nDTEND" + oslo + "20270603T120000\nTRANSP:TRANSPARENT",
		"DTSTART" + oslo + "20270604T100000\nDTEND" + oslo + "20270604T120000\nSTATUS:CANCELLED",
		"DTSTART" + oslo + "20270605T100000\nDTEND" + oslo + "20270605T120000\nSTATUS:TENTATIVE\nTRANSP:OPAQUE",
		"DTSTART" + oslo + "20270606T100000", // takes no time
	}, "2027-06-02T08:00/10:00 2027-06-05T08:00/10:00"},
	{"whole days", []string{
		"DTSTART;VALUE=DATE:20270602",
		"DTSTART;VALUE=DATE:20270610\nDTEND;VALUE=DATE:20270612",
		"DTSTART;VALUE=DATE:20270620\nDURATION:P1W",
	}, "2027-06-01T22:00/2027-06-02T22:00 2027-06-09T22:00/2027-06-11T22:00 2027-06-19T22:00/2027-06-26T22:00"},
	{"exceptions and additions", []string{
		"DTSTART" + oslo + "20270601T100000\nDURATION:PT1H\nRRULE:FREQ=DAILY;COUNT=5\nEXDATE" + oslo + "20270602T100000,20270603T100000\nRDATE" + oslo + "20270620T150000",
	}, "2027-06-01T08:00/09:00 2027-06-04T08:00/09:00 2027-06-05T08:00/09:00 2027-06-20T13:00/14:00"},
	{"an exception by its day", []string{
		"DTSTART" + oslo + "20270601T100000\nDURATION:PT1H\nRRULE:FREQ=DAILY;COUNT=3\nEXDATE;VALUE=DATE:20270602",
	}, "2027-06-01T08:00/09:00 2027-06-03T08:00/09:00"},
	{"one moved, one cancelled, one that the series does not know", []string{
		"UID:w\nDTSTART" + oslo + "20270601T100000\nDURATION:PT1H\nRRULE:FREQ=WEEKLY;COUNT=4",
		"UID:w\nRECURRENCE-ID" + oslo + "20270608T100000\nDTSTART" + oslo + "20270609T140000\nDURATION:PT2H",
		"UID:w\nRECURRENCE-ID" + oslo + "20270615T100000\nDTSTART" + oslo + "20270615T100000\nDURATION:PT1H\nSTATUS:CANCELLED",
		"UID:w\nRECURRENCE-ID" + oslo + "20270710T100000\nDTSTART" + oslo + "20270710T100000\nDURATION:PT1H",
	}, "2027-06-01T08:00/09:00 2027-06-09T12:00/14:00 2027-06-22T08:00/09:00 2027-07-10T08:00/09:00"},
	{"this and all later ones, and one of those", []string{
		"UID:w\nDTSTART" + oslo + "20270601T100000\nDTEND" + oslo + "20270601T110000\nRRULE:FREQ=WEEKLY;COUNT=5",
		"UID:w\nRECURRENCE-ID;RANGE=THISANDFUTURE;TZID=Europe/Oslo:20270608T100000\nDTSTART" + oslo + "20270609T123000\nDTEND" + oslo + "20270609T143000",
		"UID:w\nRECURRENCE-ID" + oslo + "20270622T100000\nDTSTART" + oslo + "20270622T100000\nDTEND" + oslo + "20270622T103000",
	}, "2027-06-01T08:00/09:00 2027-06-09T10:30/12:30 2027-06-16T10:30/12:30 2027-06-22T08:00/08:30 2027-06-30T10:30/12:30"},
	{"the later version counts", []string{
		"UID:w\nSEQUENCE:2\nDTSTART" + oslo + "20270602T100000\nDURATION:PT1H",
		"UID:w\nSEQUENCE:1\nDTSTART" + oslo + "20270601T100000\nDURATION:PT1H",
	}, "2027-06-02T08:00/09:00"},
	// The clocks of Oslo go forward on 28 March 2027 at two.
	{"nights across a change of clocks", []string{
		"DTSTART" + oslo + "20270327T220000\nDTEND" + oslo + "20270328T080000\nRRULE:FREQ=DAILY;COUNT=2",
	}, "2027-03-27T21:00/2027-03-28T06:00 2027-03-28T20:00/2027-03-29T05:00"},
	{"a nominal day across a change of clocks", []string{
		"DTSTART" + oslo + "20270327T120000\nDURATION:P1DT1H\nRRULE:FREQ=DAILY;COUNT=2;INTERVAL=2",
	}, "2027-03-27T11:00/2027-03-28T11:00 2027-03-29T10:00/2027-03-30T11:00"},
	{"times that never and twice happen", []string{
		"DTSTART" + oslo + "20270328T023000\nDURATION:PT10M",
		"DTSTART" + oslo + "20271031T023000\nDURATION:PT10M",
	}, "2027-03-28T01:30/01:40 2027-10-31T00:30/00:40"},
	{"a zone of the file's own, described below it", []string{
		"DTSTART;TZID=Skerry time:20270115T100000\nDURATION:PT1H\nRRULE:FREQ=MONTHLY;INTERVAL=6;COUNT=2",
		"BEGIN:VTIMEZONE\nTZID:Skerry time\nBEGIN:STANDARD\nDTSTART:19701025T030000\nTZOFFSETFROM:-0200\nTZOFFSETTO:-0330\nRRULE:FREQ=YEARLY;BYDAY=-1SU;BYMONTH=10\nEND:STANDARD\n" +
			"BEGIN:DAYLIGHT\nDTSTART:19700329T020000\nTZOFFSETFROM:-0330\nTZOFFSETTO:-0200\nRRULE:FREQ=YEARLY;BYDAY=-1SU;BYMONTH=3\nEND:DAYLIGHT\nEND:VTIMEZONE",
	}, "2027-01-15T13:30/14:30 2027-07-15T12:00/13:00"},
	{"what Windows calls zones, and a path before a name", []string{
		"DTSTART;TZID=W. Europe Standard Time:20270602T100000\nDURATION:PT1H",
		"DTSTART;TZID=/vendor.invalid/2007/Europe/London:20270603T100000\nDURATION:PT1H",
		"DTSTART;TZID=\"Eastern Standard Time\":20270604T100000\nDURATION:PT1H",
	}, "2027-06-02T08:00/09:00 2027-06-03T09:00/10:00 2027-06-04T14:00/15:00"},
	{"an addition with a length of its own", []string{
		"DTSTART" + oslo + "20270601T100000\nDURATION:PT1H\nRDATE;VALUE=PERIOD:20270603T080000Z/PT3H,20270604T080000Z/20270604T083000Z",
	}, "2027-06-01T08:00/09:00 2027-06-03T08:00/11:00 2027-06-04T08:00/08:30"},
	{"a Tuesday among Mondays, counted", []string{
		"DTSTART" + oslo + "20270601T100000\nDURATION:PT1H\nRRULE:FREQ=WEEKLY;BYDAY=MO;COUNT=3",
	}, "2027-06-01T08:00/09:00 2027-06-07T08:00/09:00 2027-06-14T08:00/09:00"},
}

// notAsked are calendars that the other readers have no words for.
var notAsked = []struct {
	name   string
	events []string
	want   string
}{
	{"free and busy times", []string{
		"BEGIN:VFREEBUSY\nFREEBUSY:20270602T080000Z/PT1H,20270602T100000Z/20270602T103000Z\nFREEBUSY;FBTYPE=FREE:20270603T080000Z/PT1H\nFREEBUSY;FBTYPE=BUSY-TENTATIVE:20270604T080000Z/PT1H\nEND:VFREEBUSY",
	}, "2027-06-02T08:00/09:00 2027-06-02T10:00/10:30 2027-06-04T08:00/09:00"},
	{"all from here on cancelled", []string{
		"UID:w\nDTSTART" + oslo + "20270601T100000\nDURATION:PT1H\nRRULE:FREQ=WEEKLY",
		"UID:w\nRECURRENCE-ID;RANGE=THISANDFUTURE;TZID=Europe/Oslo:20270615T100000\nDTSTART" + oslo + "20270615T100000\nDURATION:PT1H\nSTATUS:CANCELLED",
	}, "2027-06-01T08:00/09:00 2027-06-08T08:00/09:00"},
	{"brought in from far outside", []string{
		"UID:w\nDTSTART" + oslo + "20100601T100000\nDURATION:PT1H\nRRULE:FREQ=YEARLY",
		"UID:w\nRECURRENCE-ID" + oslo + "20120601T100000\nDTSTART" + oslo + "20270701T100000\nDURATION:PT1H",
		"UID:w\nRECURRENCE-ID" + oslo + "20270601T100000\nDTSTART" + oslo + "20300701T100000\nDURATION:PT1H",
	}, "2027-07-01T08:00/09:00"},
	{"rules taken out again", []string{
		"DTSTART" + oslo + "20270601T100000\nDURATION:PT1H\nRRULE:FREQ=DAILY;COUNT=6\nEXRULE:FREQ=DAILY;INTERVAL=2",
	}, "2027-06-02T08:00/09:00 2027-06-04T08:00/09:00 2027-06-06T08:00/09:00"},
	{"twice the same", []string{
		"UID:a\nDTSTART" + oslo + "20270601T100000\nDURATION:PT1H", "UID:a\nDTSTART" + oslo + "20270601T100000\nDURATION:PT1H",
	}, "2027-06-01T08:00/09:00"},
	{"folded, quoted, in lower case, with a mark before it", []string{
		"dtstart;x-a=\"b;c:d\";tzid=\"Europe/\n Oslo\":20270601T10\n 0000\nduration:pt1h\nsummary:a\n\t b",
	}, "2027-06-01T08:00/09:00"},
	{"an alarm inside, an attachment over many lines", []string{
		"DTSTART" + oslo + "20270601T100000\nDURATION:PT1H\nATTACH;ENCODING=BASE64;VALUE=BINARY:" + strings.Repeat("\n "+strings.Repeat("A", 70), 3000) +
			"\nBEGIN:VALARM\nTRIGGER:-PT15M\nDTSTART:nonsense\nDURATION:PT5M\nEND:VALARM",
	}, "2027-06-01T08:00/09:00"},
}

func TestHappenings(t *testing.T) {
	zone := load(t, "Europe/Oslo")
	for _, c := range append(happenings, notAsked...) {
		list, faults := Read(strings.NewReader(byteOrderMark+wrapped(c.events...)), Options{Zone: zone,
			From: time.Date(2027, 1, 1, 0, 0, 0, 0, time.UTC), To: time.Date(2028, 1, 1, 0, 0, 0, 0, time.UTC)})
		var got []string
		for i := range list {
			if !list[i].Busy() {
				continue
			}
			from, to := list[i].From.UTC(), list[i].To.UTC()
			end := to.Format("15:04")
			if from.YearDay() != to.YearDay() {
				end = to.Format("2006-01-02T15:04")
			}
			got = append(got, from.Format("2006-01-02T15:04")+"/"+end)
		}
		if s := strings.Join(got, " "); s != c.want || len(faults) > 0 {
			t.Errorf("%s:\ngot  %s %v\nwant %s", c.name, s, faults, c.want)
		}
	}
}

// What is not busy is given too: services are looked for in it.
func TestWordsOfEntries(t *testing.T) {
	list, faults := Read(strings.NewReader(wrapped(
		"SUMMARY:Rehearsal\\, strings\\; hall\nCATEGORIES:Work,ORCHESTRA\nCATEGORIES:x\nDESCRIPTION:a\\nb\\\\n\nLOCATION:Hall\nTRANSP:transparent\nDTSTART:20270601T100000Z")),
		Options{Zone: time.UTC, From: time.Date(2027, 1, 1, 0, 0, 0, 0, time.UTC), To: time.Date(2028, 1, 1, 0, 0, 0, 0, time.UTC)})
	if len(list) != 1 || len(faults) > 0 {
		t.Fatal(list, faults)
	}
	e := *list[0].Entry
	if want := (Entry{Line: 4, UID: "0", Title: "Rehearsal, strings; hall", Categories: "Work ORCHESTRA x", Description: "a\nb\\n", Location: "Hall", Transparent: true}); e != want {
		t.Errorf("%+v instead of %+v", e, want)
	}
}

package calendar

import (
	"fmt"
	"strconv"
	"strings"
	"testing"
	"time"
)

// published are the recurrence examples of RFC 5545, 3.8.5.3, with the answers
// printed there. All begin in New York; the answers are local times of the start's
// clock where they give none. An answer that ends in … goes on.
var published = []struct{ start, rule, want string }{
	{"19970902T090000", "FREQ=DAILY;COUNT=10", "1997 Sep 2-11"},
	{"19970902T090000", "FREQ=DAILY;UNTIL=19971224T000000Z", "1997 Sep 2-30 Oct 1-31 Nov 1-30 Dec 1-23"},
	{"19970902T090000", "FREQ=DAILY;INTERVAL=2", "1997 Sep 2,4,6,8,10,12,14,16,18,20,22,24,26,28,30 Oct 2,4,6,8,10,12,14,16,18,20,22,24,26,28,30 Nov 1,3,5,7,9,11,13,15,17,19,21,23,25,27,29 Dec 1,3 …"},
	{"19970902T090000", "FREQ=DAILY;INTERVAL=10;COUNT=5", "1997 Sep 2,12,22 Oct 2,12"},
	{"19980101T090000", "FREQ=YEARLY;UNTIL=20000131T140000Z;BYMONTH=1;BYDAY=SU,MO,TU,WE,TH,FR,SA", "1998 Jan 1-31 1999 Jan 1-31 2000 Jan 1-31"},
	{"19980101T090000", "FREQ=DAILY;UNTIL=20000131T140000Z;BYMONTH=1", "1998 Jan 1-31 1999 Jan 1-31 2000 Jan 1-31"},
	{"19970902T090000", "FREQ=WEEKLY;COUNT=10", "1997 Sep 2,9,16,23,30 Oct 7,14,21,28 Nov 4"},
	{"19970902T090000", "FREQ=WEEKLY;UNTIL=19971224T000000Z", "1997 Sep 2,9,16,23,30 Oct 7,14,21,28 Nov 4,11,18,25 Dec 2,9,16,23"},
	{"19970902T090000", "FREQ=WEEKLY;INTERVAL=2;WKST=SU", "1997 Sep 2,16,30 Oct 14,28 Nov 11,25 Dec 9,23 1998 Jan 6,20 Feb 3,17 …"},
	{"19970902T090000", "FREQ=WEEKLY;UNTIL=19971007T000000Z;WKST=SU;BYDAY=TU,TH", "1997 Sep 2,4,9,11,16,18,23,25,30 Oct 2"},
	{"19970902T090000", "FREQ=WEEKLY;COUNT=10;WKST=SU;BYDAY=TU,TH", "1997 Sep 2,4,9,11,16,18,23,25,30 Oct 2"},
	{"19970901T090000", "FREQ=WEEKLY;INTERVAL=2;UNTIL=19971224T000000Z;WKST=SU;BYDAY=MO,WE,FR", "1997 Sep 1,3,5,15,17,19,29 Oct 1,3,13,15,17,27,29,31 Nov 10,12,14,24,26,28 Dec 8,10,12,22"},
	{"19970902T090000", "FREQ=WEEKLY;INTERVAL=2;COUNT=8;WKST=SU;BYDAY=TU,TH", "1997 Sep 2,4,16,18,30 Oct 2,14,16"},
	{"19970905T090000", "FREQ=MONTHLY;COUNT=10;BYDAY=1FR", "1997 Sep 5 Oct 3 Nov 7 Dec 5 1998 Jan 2 Feb 6 Mar 6 Apr 3 May 1 Jun 5"},
	{"19970905T090000", "FREQ=MONTHLY;UNTIL=19971224T000000Z;BYDAY=1FR", "1997 Sep 5 Oct 3 Nov 7 Dec 5"},
	{"19970907T090000", "FREQ=MONTHLY;INTERVAL=2;COUNT=10;BYDAY=1SU,-1SU", "1997 Sep 7,28 Nov 2,30 1998 Jan 4,25 Mar 1,29 May 3,31"},
	{"19970922T090000", "FREQ=MONTHLY;COUNT=6;BYDAY=-2MO", "1997 Sep 22 Oct 20 Nov 17 Dec 22 1998 Jan 19 Feb 16"},
	{"19970928T090000", "FREQ=MONTHLY;BYMONTHDAY=-3", "1997 Sep 28 Oct 29 Nov 28 Dec 29 1998 Jan 29 Feb 26 …"},
	{"19970902T090000", "FREQ=MONTHLY;COUNT=10;BYMONTHDAY=2,15", "1997 Sep 2,15 Oct 2,15 Nov 2,15 Dec 2,15 1998 Jan 2,15"},
	{"19970930T090000", "FREQ=MONTHLY;COUNT=10;BYMONTHDAY=1,-1", "1997 Sep 30 Oct 1,31 Nov 1,30 Dec 1,31 1998 Jan 1,31 Feb 1"},
	{"19970910T090000", "FREQ=MONTHLY;INTERVAL=18;COUNT=10;BYMONTHDAY=10,11,12,13,14,15", "1997 Sep 10-15 1999 Mar 10-13"},
	{"19970902T090000", "FREQ=MONTHLY;INTERVAL=2;BYDAY=TU", "1997 Sep 2,9,16,23,30 Nov 4,11,18,25 1998 Jan 6,13,20,27 Mar 3,10,17,24,31 …"},
	{"19970610T090000", "FREQ=YEARLY;COUNT=10;BYMONTH=6,7", "1997 Jun 10 Jul 10 1998 Jun 10 Jul 10 1999 Jun 10 Jul 10 2000 Jun 10 Jul 10 2001 Jun 10 Jul 10"},
	{"19970310T090000", "FREQ=YEARLY;INTERVAL=2;COUNT=10;BYMONTH=1,2,3", "1997 Mar 10 1999 Jan 10 Feb 10 Mar 10 2001 Jan 10 Feb 10 Mar 10 2003 Jan 10 Feb 10 Mar 10"},
	{"19970101T090000", "FREQ=YEARLY;INTERVAL=3;COUNT=10;BYYEARDAY=1,100,200", "1997 Jan 1 Apr 10 Jul 19 2000 Jan 1 Apr 9 Jul 18 2003 Jan 1 Apr 10 Jul 19 2006 Jan 1"},
	{"19970519T090000", "FREQ=YEARLY;BYDAY=20MO", "1997 May 19 1998 May 18 1999 May 17 …"},
	{"19970512T090000", "FREQ=YEARLY;BYWEEKNO=20;BYDAY=MO", "1997 May 12 1998 May 11 1999 May 17 …"},
	{"19970313T090000", "FREQ=YEARLY;BYMONTH=3;BYDAY=TH", "1997 Mar 13,20,27 1998 Mar 5,12,19,26 1999 Mar 4,11,18,25 …"},
	{"19970605T090000", "FREQ=YEARLY;BYDAY=TH;BYMONTH=6,7,8", "1997 Jun 5,12,19,26 Jul 3,10,17,24,31 Aug 7,14,21,28 1998 Jun 4,11,18,25 Jul 2,9,16,23,30 Aug 6,13,20,27 1999 Jun 3,10,17,24 Jul 1,8,15,22,29 Aug 5,12,19,26 …"},
	{"19970902T090000\nEXDATE;TZID=America/New_York:19970902T090000", "FREQ=MONTHLY;BYDAY=FR;BYMONTHDAY=13", "1998 Feb 13 Mar 13 Nov 13 1999 Aug 13 2000 Oct 13 …"},
	{"19970913T090000", "FREQ=MONTHLY;BYDAY=SA;BYMONTHDAY=7,8,9,10,11,12,13", "1997 Sep 13 Oct 11 Nov 8 Dec 13 1998 Jan 10 Feb 7 Mar 7 Apr 11 May 9 Jun 13 …"},
	{"19961105T090000", "FREQ=YEARLY;INTERVAL=4;BYMONTH=11;BYDAY=TU;BYMONTHDAY=2,3,4,5,6,7,8", "1996 Nov 5 2000 Nov 7 2004 Nov 2 …"},
	{"19970904T090000", "FREQ=MONTHLY;COUNT=3;BYDAY=TU,WE,TH;BYSETPOS=3", "1997 Sep 4 Oct 7 Nov 6"},
	{"19970929T090000", "FREQ=MONTHLY;BYDAY=MO,TU,WE,TH,FR;BYSETPOS=-2", "1997 Sep 29 Oct 30 Nov 27 Dec 30 1998 Jan 29 Feb 26 Mar 30 …"},
	// Printed as 09:00, 12:00 and 15:00, for an UNTIL of 17:00 in New York; the
	// rule's 17:00Z is 13:00 there, and the two Python packages say so too.
	{"19970902T090000", "FREQ=HOURLY;INTERVAL=3;UNTIL=19970902T170000Z", "1997 Sep 2 @9:00,12:00"},
	{"19970902T090000", "FREQ=HOURLY;INTERVAL=3;UNTIL=19970902T210000Z", "1997 Sep 2 @9:00,12:00,15:00"},
	{"19970902T090000", "FREQ=MINUTELY;INTERVAL=15;COUNT=6", "1997 Sep 2 @9:00,9:15,9:30,9:45,10:00,10:15"},
	{"19970902T090000", "FREQ=MINUTELY;INTERVAL=90;COUNT=4", "1997 Sep 2 @9:00,10:30,12:00,13:30"},
	{"19970902T090000", "FREQ=DAILY;BYHOUR=9,10,11,12,13,14,15,16;BYMINUTE=0,20,40", "1997 Sep 2 @" + everyTwenty + " 3 @" + everyTwenty + " …"},
	{"19970902T090000", "FREQ=MINUTELY;INTERVAL=20;BYHOUR=9,10,11,12,13,14,15,16", "1997 Sep 2 @" + everyTwenty + " 3 @" + everyTwenty + " …"},
	{"19970805T090000", "FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=MO", "1997 Aug 5,10,19,24"},
	{"19970805T090000", "FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=SU", "1997 Aug 5,17,19,31"},
	{"20070115T090000", "FREQ=MONTHLY;BYMONTHDAY=15,30;COUNT=5", "2007 Jan 15,30 Feb 15 Mar 15,30"},
}

const everyTwenty = "9:00,9:20,9:40,10:00,10:20,10:40,11:00,11:20,11:40,12:00,12:20,12:40,13:00,13:20,13:40,14:00,14:20,14:40,15:00,15:20,15:40,16:00,16:20,16:40"

// answers spells an answer out as local times, and tells whether it goes on.
func answers(t *testing.T, s string) (out []string, on bool) {
	t.Helper()
	year, month, day := "", "", ""
	for _, word := range strings.Fields(s) {
		switch {
		case word == "…":
			return out, true
		case word[0] == '@':
			out = out[:len(out)-1] // the day's nine o'clock
			for _, clock := range strings.Split(word[1:], ",") {
				at, err := time.Parse("2006 Jan 2 15:04", fmt.Sprintf("%s %s %s %s", year, month, day, clock))
				if err != nil {
					t.Fatal(err)
				}
				out = append(out, at.Format(timeForm))
			}
		case len(word) == 4 && word[0] < '3' && !strings.ContainsAny(word, ",-"):
			year = word
		case word[0] > '9':
			month = word
		default:
			for _, d := range strings.Split(word, ",") {
				from, to, run := strings.Cut(d, "-")
				a, err1 := strconv.Atoi(from)
				b := a
				var err2 error
				if run {
					b, err2 = strconv.Atoi(to)
				}
				if err1 != nil || err2 != nil {
					t.Fatalf("%q in %q", word, s)
				}
				for ; a <= b; a++ {
					day = strconv.Itoa(a)
					at, err := time.Parse("2006 Jan 2", fmt.Sprintf("%s %s %s", year, month, day))
					if err != nil {
						t.Fatal(err)
					}
					out = append(out, at.Format(dateForm)+"T090000")
				}
			}
		}
	}
	return out, false
}

// newYork is the zone's description printed in RFC 5545, 3.6.5.
const newYork = `BEGIN:VTIMEZONE
TZID:America/New_York
BEGIN:DAYLIGHT
DTSTART:19870405T020000
RRULE:FREQ=YEARLY;BYDAY=1SU;BYMONTH=4;UNTIL=20060402T070000Z
TZOFFSETFROM:-0500
TZOFFSETTO:-0400
END:DAYLIGHT
BEGIN:STANDARD
DTSTART:19671029T020000
RRULE:FREQ=YEARLY;BYDAY=-1SU;BYMONTH=10;UNTIL=20061029T060000Z
TZOFFSETFROM:-0400
TZOFFSETTO:-0500
END:STANDARD
BEGIN:DAYLIGHT
DTSTART:20070311T020000
RRULE:FREQ=YEARLY;BYDAY=2SU;BYMONTH=3
TZOFFSETFROM:-0500
TZOFFSETTO:-0400
END:DAYLIGHT
BEGIN:STANDARD
DTSTART:20071104T020000
RRULE:FREQ=YEARLY;BYDAY=1SU;BYMONTH=11
TZOFFSETFROM:-0400
TZOFFSETTO:-0500
END:STANDARD
END:VTIMEZONE
`

// example makes a calendar of one event in New York.
func example(start, rule string) string {
	return "BEGIN:VCALENDAR\n" + newYork + "BEGIN:VEVENT\nUID:a\nDTSTART;TZID=America/New_York:" + start + "\nDURATION:PT10M\nRRULE:" + rule + "\nEND:VEVENT\nEND:VCALENDAR\n"
}

func load(t testing.TB, name string) *time.Location {
	t.Helper()
	zone, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return zone
}

// Each example is read by the zone's name, and by its description alone.
func TestPublishedRecurrences(t *testing.T) {
	zone := load(t, "America/New_York")
	for _, c := range published {
		want, on := answers(t, c.want)
		for _, id := range []string{"America/New_York", "Skerry/York"} {
			text := strings.ReplaceAll(example(c.start, c.rule), "America/New_York", id)
			until := time.Date(2010, 1, 1, 0, 0, 0, 0, time.UTC)
			if on { // its beginning alone is printed
				last, err := time.Parse(timeForm, want[len(want)-1])
				if err != nil {
					t.Fatal(err)
				}
				until = last.AddDate(0, 0, 2)
			}
			got, faults := Read(strings.NewReader(text), Options{Zone: zone,
				From: time.Date(1996, 1, 1, 0, 0, 0, 0, time.UTC), To: until})
			if len(faults) > 0 {
				t.Errorf("%s: %v", c.rule, faults)
				continue
			}
			var said []string
			for _, o := range got {
				said = append(said, o.From.In(zone).Format(timeForm))
			}
			if on && len(said) > len(want) {
				said = said[:len(want)]
			}
			if strings.Join(said, " ") != strings.Join(want, " ") {
				t.Errorf("%s from %s in %s:\ngot  %v\nwant %v", c.rule, c.start, id, said, want)
			}
		}
	}
}

package calendar

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"sort"
	"strings"
	"testing"
	"time"
)

// references is where make deps puts the independent readers.
const references = "../../../.deps/python"

const utcForm = "2006-01-02T15:04:05Z"

type request struct {
	Zone    string   `json:"zone"`
	Folders []string `json:"folders"`
	Texts   []string `json:"texts"`
}

// said is what the readers say of one calendar: spans of busy time, in UTC;
// null where the reader can't read it.
type said struct {
	Name      string      `json:"name"`
	Text      []byte      `json:"text"`
	From      time.Time   `json:"from"`
	To        time.Time   `json:"to"`
	Recurring [][2]string `json:"recurring"`
	Vobject   [][2]string `json:"vobject"`
	Error     string      `json:"error"`
}

func ask(t *testing.T, q request) (out []said) {
	t.Helper()
	if _, err := os.Stat(filepath.Join(references, "icalendar")); err != nil {
		t.Fatal("the independent readers are not there; fetch them with: make deps")
	}
	in, err := json.Marshal(q)
	if err != nil {
		t.Fatal(err)
	}
	where, err := filepath.Abs(references)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("python3", filepath.Join("..", "..", "..", "testdata", "python", "busy.py"))
	cmd.Env = append(os.Environ(), "PYTHONPATH="+where, "PYTHONTZPATH="+filepath.Join(where, "tzdata", "zoneinfo"), "PYTHONDONTWRITEBYTECODE=1")
	cmd.Stdin = bytes.NewReader(in)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	b, err := cmd.Output()
	if err != nil {
		t.Fatalf("busy.py: %v\n%s", err, stderr.String())
	}
	if err := json.Unmarshal(b, &out); err != nil {
		t.Fatal(err)
	}
	return out
}

// ours gives the spans of busy time as Read has them.
func ours(t *testing.T, s *said) ([][2]string, []Fault) {
	t.Helper()
	list, faults := Read(bytes.NewReader(s.Text), Options{From: s.From, To: s.To, Zone: load(t, "Europe/Oslo")})
	seen := map[[2]string]bool{}
	out := [][2]string{}
	for i := range list {
		k := [2]string{list[i].From.UTC().Format(utcForm), list[i].To.UTC().Format(utcForm)}
		if list[i].Busy() && !seen[k] {
			seen[k] = true
			out = append(out, k)
		}
	}
	sort.Slice(out, func(a, b int) bool { return out[a][0]+out[a][1] < out[b][0]+out[b][1] })
	return out, faults
}

// differ shows where two answers differ.
func differ(got, want [][2]string) string {
	count := map[[2]string]int{}
	for _, k := range got {
		count[k]++
	}
	for _, k := range want {
		count[k]--
	}
	var lines []string
	for k, n := range count {
		if n != 0 {
			lines = append(lines, map[bool]string{true: "  only ours   ", false: "  only theirs "}[n > 0]+k[0]+" "+k[1])
		}
	}
	sort.Strings(lines)
	if len(lines) > 6 {
		lines = append(lines[:6], "  …")
	}
	return strings.Join(lines, "\n")
}

// differences from recurring-ical-events, by file, and what the RFC says.
var differences = map[string]string{
	"icalendar/calendars/issue_1633_rdate_with_dates.ics":          "a PERIOD of dates: dates have no zone (3.3.4), so they are whole days of the reader; there they are days in UTC",
	"icalendar/calendars/issue_1633_rdate_with_dates_and_tzid.ics": "the same, with a TZID that DATE values must not have (3.2.19)",
	"icalendar/events/event_with_recurrence.ics":                   "EXDATE in UTC, DTSTART without a zone: that is the reader's local time (3.3.5); there it is UTC as well",
	"recurring_ical_events/calendars/issue_75_range_parameter.ics": "UNTIL is a date where DTSTART is a time: not allowed (3.3.10); the whole of that day is meant here, its first moment there",
	"recurring_ical_events/calendars/multiple_rrule.ics":           "DTSTART always counts as the first occurrence of COUNT (3.3.10), also where the rule does not hold it",
	"nights across a change of clocks":                             "with DTEND every occurrence has the same exact duration (3.8.5.3); there it has the same on the clock",
	"a Tuesday among Mondays, counted":                             "DTSTART always counts as the first occurrence of COUNT (3.3.10)",
}

// vobjects are differences from vobject, which knows no changed instances and
// is asked of files without them alone.
var vobjects = map[string]string{
	"the later version counts":                                               "vobject does not look at SEQUENCE (RFC 5546, 2.1.4)",
	"times that never and twice happen":                                      "a time that never happens has the offset before the gap (3.3.5); vobject takes the one after it",
	"what Windows calls zones, and a path before a name":                     "names that the file does not describe are local time to vobject",
	"an addition with a length of its own":                                   "vobject reads no PERIOD in RDATE (3.8.5.2)",
	"icalendar/calendars/issue_178_custom_component_contains_other.ics":      "an event inside a component of the sender's own: vobject looks at the outermost alone",
	"icalendar/calendars/issue_313_globally_unique_tzid.ics":                 "a TZID with a path before it (3.2.19) is local time to vobject",
	"icalendar/calendars/period_with_timezone.ics":                           "vobject reads no PERIOD in RDATE (3.8.5.2)",
	"icalendar/events/issue_156_RDATE_with_PERIOD.ics":                       "the same",
	"icalendar/events/issue_156_RDATE_with_PERIOD_list.ics":                  "the same",
	"icalendar/events/issue_184_broken_representation_of_period.ics":         "the same",
	"recurring_ical_events/calendars/duplicated_rrule.ics":                   "Europe/London is not described in the file: London has no summer time there",
	"recurring_ical_events/calendars/end_before_start_event.ics":             "DTEND before DTSTART (not allowed, 3.8.2.2): the time between is taken here and by the other reader",
	"recurring_ical_events/calendars/issue_132_swapped_start_and_end.ics":    "the same",
	"recurring_ical_events/calendars/fablab_cottbus.ics":                     "the file describes Europe/Berlin from October 2018 on; earlier summers are winters to who believes it",
	"recurring_ical_events/calendars/issue_107_omitting_last_event.ics":      "Pacific Standard Time is described under another TZID: local time to vobject, what Windows means by it here",
	"recurring_ical_events/calendars/issue_113_period_in_rdate.ics":          "vobject reads no PERIOD in RDATE",
	"recurring_ical_events/calendars/issue_113_period_rdate_duration.ics":    "the same",
	"recurring_ical_events/calendars/issue_148_exdate_and_rdate_updated.ics": "vobject does not look at SEQUENCE (RFC 5546, 2.1.4)",
	"recurring_ical_events/calendars/issue_148_ignored_exdate.ics":           "the same",
}

// refusals are files that the others read and that are refused here.
var refusals = map[string]string{
	"icalendar/calendars/fuzz_testcase_0_char_in_component_name.ics":   "a NUL byte",
	"recurring_ical_events/calendars/issue_128_only_first_event.ics":   "COUNT=-1: one or more digits (3.3.10)",
	"recurring_ical_events/calendars/issue_201_test_matrix.ics":        "END:VTOOD",
	"icalendar/calendars/timezone_same_start_and_offset.ics":           "END:VCALENDARD",
	"icalendar/calendars/timezone_rdate.ics":                           "a line without a colon",
	"icalendar/calendars/issue_168_input.ics":                          "a line without a colon",
	"icalendar/calendars/issue_348_exception_parsing_value.ics":        "a line without a value",
	"icalendar/events/issue_104_mark_events_broken.ics":                "a line without a colon",
	"icalendar/calendars/big_bad_calendar.ics":                         "an event without DTSTART, in a calendar without METHOD (3.6.1)",
	"icalendar/calendars/small_bad_calendar.ics":                       "the same",
	"icalendar/calendars/pr_480_summary_with_colon.ics":                "the same",
	"icalendar/calendars/issue_526_calendar_with_different_events.ics": "TZID Western/Central Europe, which nothing describes (3.2.19)",
	"icalendar/calendars/issue_526_calendar_with_event_subset.ics":     "the same",
	"icalendar/calendars/issue_526_calendar_with_events.ics":           "the same",
	"icalendar/calendars/issue_526_calendar_with_shuffeled_events.ics": "the same",
	"icalendar/calendars/issue_722_missing_VTIMEZONE_custom.ics":       "TZID CUSTOM_tzid, which nothing describes",
}

// compare sets ours against theirs. A difference has to be among those named,
// and those named have to be there.
func compare(t *testing.T, list []said) {
	t.Helper()
	count := map[string]int{}
	for _, s := range list {
		got, faults := ours(t, &s)
		if len(faults) > 0 {
			count["refused"]++
			if len(s.Recurring) > 0 && refusals[s.Name] == "" {
				t.Errorf("%s is refused: %v", s.Name, faults[0])
			}
			continue
		}
		if refusals[s.Name] != "" {
			t.Errorf("%s is not refused", s.Name)
		}
		readers := []struct {
			name  string
			says  [][2]string
			named map[string]string
		}{{"recurring-ical-events", s.Recurring, differences}, {"vobject", s.Vobject, vobjects}}
		for _, r := range readers {
			if r.says == nil {
				continue
			}
			count[r.name]++
			if same := len(got) == 0 && len(r.says) == 0 || reflect.DeepEqual(got, r.says); same != (r.named[s.Name] == "") && (r.name != "vobject" || differences[s.Name] == "") {
				t.Errorf("%s, %s:\n%s", s.Name, r.name, differ(got, r.says))
			}
			if len(got) > 0 {
				count[r.name+", with busy time"]++
			}
		}
	}
	t.Log(count)
}

// The sample files of the packages icalendar and recurring-ical-events.
func TestSampleFiles(t *testing.T) {
	compare(t, ask(t, request{Zone: "Europe/Oslo", Folders: []string{"icalendar/tests", "recurring_ical_events/test"}}))
}

// norway describes Oslo from 1996 on.
const norway = `BEGIN:VTIMEZONE
TZID:Europe/Oslo
BEGIN:DAYLIGHT
DTSTART:19960331T020000
RRULE:FREQ=YEARLY;BYDAY=-1SU;BYMONTH=3
TZOFFSETFROM:+0100
TZOFFSETTO:+0200
END:DAYLIGHT
BEGIN:STANDARD
DTSTART:19961027T030000
RRULE:FREQ=YEARLY;BYDAY=-1SU;BYMONTH=10
TZOFFSETFROM:+0200
TZOFFSETTO:+0100
END:STANDARD
END:VTIMEZONE
`

// The published recurrences, and calendars of our own, asked of the same
// readers.
func TestOwnFiles(t *testing.T) {
	var q request
	q.Zone = "Europe/Oslo"
	for _, c := range published {
		q.Texts = append(q.Texts, example(c.start, c.rule))
	}
	names := map[int]string{}
	for _, c := range happenings {
		names[len(q.Texts)] = c.name
		// vobject takes a zone that the file does not describe for one without
		// changes of clocks.
		q.Texts = append(q.Texts, strings.Replace(wrapped(c.events...), "BEGIN:VEVENT", strings.ReplaceAll(norway, "\n", "\r\n")+"BEGIN:VEVENT", 1))
	}
	list := ask(t, q)
	for i, name := range names {
		list[i].Name = name
	}
	compare(t, list)
}

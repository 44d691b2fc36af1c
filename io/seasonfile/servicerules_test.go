package seasonfile

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"primaprova/model"
)

const twoProgrammes = `programmes:
  - {id: tide, parts: [{id: a, arrives: 2027-03-01, estimate: 30}]}
  - {id: thaw, parts: [{id: b, arrives: 2027-03-01, estimate: 30}]}
hours: {every day: [09:00-21:00]}
`

// told gives the services of all programmes, the busy times and tours.
func told(s *model.Season) string {
	var out []string
	for _, p := range s.Programmes {
		for _, v := range p.Services {
			out = append(out, fmt.Sprintf("%s: %s %s %s %s %d%% %d", p.ID, v.Kind, v.Date, v.Start, v.Lasts, v.Playing, v.Travel))
		}
	}
	for _, b := range s.Busy {
		out = append(out, fmt.Sprintf("busy: %v %v", b.Date, b.Span))
	}
	for _, r := range s.Limits.Tours {
		out = append(out, fmt.Sprintf("tour: %v", r))
	}
	return strings.Join(out, "\n")
}

func event(title, start, more string) string {
	return "SUMMARY:" + title + "\nDTSTART;TZID=Europe/Oslo:" + start + "\n" + more
}

var orchestra = []string{
	event("Tide tables: rehearsal", "20270315T100000", "DURATION:PT2H30M\nRRULE:FREQ=DAILY;COUNT=2"),
	event("Tide tables", "20270318T193000", "DURATION:PT1H50M\nCATEGORIES:CONCERT"),
	event("Thaw\\, sectional", "20270322T100000", "DURATION:PT2H"),
	event("Tutti", "20270323T100000", "DURATION:PT2H\nTRANSP:TRANSPARENT"),
	event("Board meeting", "20270310T100000", "DURATION:PT2H\nRRULE:FREQ=WEEKLY;COUNT=3"),
	event("Fitting", "20270311T160000", "DURATION:PT30M"),
	"SUMMARY:Tour of the coast\nDTSTART;VALUE=DATE:20270325\nDTEND;VALUE=DATE:20270328",
	"SUMMARY:Concert in the park\nDTSTART;VALUE=DATE:20270330",
	event("Photographs", "20270312T160000", "DURATION:PT30M"),
	event("Thaw, concert", "20270401T160000", "DURATION:PT30M"), // after the season
	event("Thaw, concert", "20270329T160000", "DURATION:PT30M\nSTATUS:CANCELLED"),
}

const orchestraRules = `services_from:
  - file: o.ics
    travel: 30 min
    playing: 60 %
    rules:
      - {words: tide tables, programme: tide}
      - {words: [THAW, sectional], is: rehearsal, programme: thaw, travel: 0 min, playing: 80 %}
      - {words: tutti, from: 2027-03-20, to: 2027-03-24, is: concert, programme: thaw}
      - {words: board, is: nothing}
      - {words: fitting, is: busy}
      - {words: tour, is: tour}
      - {words: park, programme: thaw}
`

func TestServiceRules(t *testing.T) {
	files := map[string]string{"o.ics": events(orchestra...)}
	f, err := readBeside(t, twoProgrammes+orchestraRules, files)
	if err != nil {
		t.Fatal(err)
	}
	want := `tide: rehearsal 2027-03-15 10:00 150 min 60% 30
tide: rehearsal 2027-03-16 10:00 150 min 60% 30
tide: concert 2027-03-18 19:30 110 min 60% 30
thaw: rehearsal 2027-03-22 10:00 120 min 80% 0
thaw: concert 2027-03-23 10:00 120 min 60% 30
busy: 2027-03-11 16:00-16:30
tour: 2027-03-25..2027-03-27`
	if got := told(f.Season); got != want {
		t.Errorf("got:\n%s\nwant:\n%s", got, want)
	}
	wantSaid := `o.ics:49: "Concert in the park": warning: is a concert without a time of day or an end and is left out (2027-03-30)
o.ics:54: "Photographs": warning: matches no rule of services_from and is left out (2027-03-12)
  try: a line in rules, for example {words: staff meeting, is: nothing}`
	if got := Text(f.Warnings); !sameLines(got, wantSaid) {
		t.Errorf("said:\n%s\nwant:\n%s", got, wantSaid)
	}
	// The orchestra moves what it announced: the next reading has it so.
	moved := append([]string{event("Tide tables: rehearsal", "20270314T110000", "DURATION:PT2H30M\nRRULE:FREQ=DAILY;COUNT=2")}, orchestra[1:]...)
	f, err = readBeside(t, twoProgrammes+orchestraRules, map[string]string{"o.ics": events(moved...)})
	if err != nil {
		t.Fatal(err)
	}
	if got := told(f.Season); !strings.HasPrefix(got, "tide: rehearsal 2027-03-14 11:00 150 min 60% 30\ntide: rehearsal 2027-03-15 11:00") || strings.Contains(got, "10:00 150 min") {
		t.Errorf("after the move:\n%s", got)
	}
	if first := f.Season.Programmes[0].FirstRehearsal(); first != model.NewDate(2027, 3, 14) {
		t.Errorf("first rehearsal %v", first)
	}
}

// sameLines compares texts line by line, in any order.
func sameLines(a, b string) bool {
	count := map[string]int{}
	for _, l := range strings.Split(a, "\n") {
		count[l]++
	}
	for _, l := range strings.Split(b, "\n") {
		count[l]--
	}
	for _, n := range count {
		if n != 0 {
			return false
		}
	}
	return true
}

func TestServiceTable(t *testing.T) {
	for _, c := range []struct{ name, csv, keys, want, said string }{
		{"its own columns", "date,start,end,title,kind,programme,playing\n2027-03-15,10:00,12:30,Tutti,rehearsal,tide,\n2027-03-18,19:30,21:20,,concert,tide,70 %\n,,,,,,\n2027-03-22,9:30,11:30,Hall,Rehearsal,thaw,\n", "",
			"tide: rehearsal 2027-03-15 10:00 150 min 65% 0\ntide: concert 2027-03-18 19:30 110 min 70% 0\nthaw: rehearsal 2027-03-22 09:30 120 min 65% 0", ""},
		{"the orchestra's columns", "Datum;Tag;Beginn;Ende;Was;Ort\n15.3.2027;Mo;10.00;12.30;Probe Ebbe;Saal\n18.03.2027;Do;19:30:00;00:10;Konzert Ebbe;Saal\n23.3.2027;Di;10.00;12.00;Probe Tauwetter;Saal\n24.3.2027;Mi;10.00;12.00;Sitzung;Saal\n",
			`, columns: {date: Datum, start: Beginn, end: Ende, title: Was}, rules: [{words: [probe, ebbe], is: rehearsal, programme: tide}, {words: konzert ebbe, is: concert, programme: tide}, {words: probe, is: rehearsal, programme: thaw}]`,
			"tide: rehearsal 2027-03-15 10:00 150 min 65% 0\ntide: concert 2027-03-18 19:30 280 min 65% 0\nthaw: rehearsal 2027-03-23 10:00 120 min 65% 0",
			`o.csv:5: "Sitzung": warning: matches no rule of services_from and is left out (2027-03-24)`},
		{"dates with strokes", "date\tstart\tlasts\ttitle\tprogramme\n3/15/2027\t10:00\t2 h\trehearsal\ttide\n3/16/2027\t10:00\t90\trehearsal\tthaw\n", ", dates: month/day/year",
			"tide: rehearsal 2027-03-15 10:00 120 min 65% 0\nthaw: rehearsal 2027-03-16 10:00 90 min 65% 0", ""},
	} {
		f, err := readBeside(t, twoProgrammes+"services_from: [{file: o.csv"+c.keys+"}]\n", map[string]string{"o.csv": c.csv})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if got := told(f.Season); got != c.want {
			t.Errorf("%s: got:\n%s\nwant:\n%s", c.name, got, c.want)
		}
		said := slices.DeleteFunc(f.Warnings, func(w Fault) bool { return strings.HasPrefix(w.Text, "no concert is given") })
		if got := Text(said); (c.said == "") != (got == "") || !strings.Contains(got, c.said) {
			t.Errorf("%s: said %s", c.name, got)
		}
	}
}

func TestServiceRuleFaults(t *testing.T) {
	for _, c := range []struct{ from, csv, want string }{
		{"[{file: o.ics, rules: [{words: tide, programme: tied}]}]", "", `season.yaml:9: services_from: entry 1: rules: entry 1: programme: "tied": no programme has this id
  try: tide`},
		{"[{file: o.ics, rules: [{words: tide, is: rehersal}]}]", "", `season.yaml:9: services_from: entry 1: rules: entry 1: is: "rehersal": is not one of rehearsal, concert, recital, audition, lesson, busy, tour, nothing
  try: rehearsal`},
		{"[{file: o.ics, rules: [{is: nothing}]}]", "", "season.yaml:9: services_from: entry 1: rules: entry 1: this rule matches everything: it has neither words nor dates"},
		{"[{rules: []}]", "", "season.yaml:9: services_from: entry 1: file: is missing"},
		{"o.ics", "", "season.yaml:9: services_from: \"o.ics\": expected a list, found a single value"},
		{"[{file: o.csv}]", "date,start,title\n", "o.csv:1: there is no column end and none lasts"},
		{"[{file: o.csv}]", "datum,start,end\n", "o.csv:1: the column date is missing"},
		{"[{file: o.csv}]", "date,start,end\n3/4/2027,10:00,12:00\n", `o.csv:2: date: "3/4/2027": is a date that can be read in two ways
  try: dates: day/month/year beside file:, or month/day/year`},
		{"[{file: o.csv}]", "date,start,end\n2027-03-32,10:00,12:00\nsoon,10:00,later\n", `o.csv:2: date: "2027-03-32": is not a date like 2027-01-31
o.csv:3: date: "soon": is not a date like 2027-01-31
o.csv:3: end: "later": is not a time of day like 19:30`},
		{"[{file: o.csv}]", "date,start,end,programme\n2027-03-22,10:00,12:00,tied\n", `o.csv:2: programme: "tied": no programme has this id`},
	} {
		_, err := readBeside(t, twoProgrammes+"services_from: "+c.from+"\n", map[string]string{"o.csv": c.csv, "o.ics": events(orchestra...)})
		if err == nil || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("%s: %v; want %s", c.from, err, c.want)
		}
	}
}

// FuzzServiceTable: no table makes the reader panic, and what it gives has a
// date.
func FuzzServiceTable(f *testing.F) {
	f.Add("date,start,end,title\n2027-03-15,10:00,12:30,a\n")
	f.Add("date;start;lasts\n1.2.27;25:00;x\n\n;;\n")
	f.Add("start\tdate\tend\n\"a\n")
	f.Fuzz(func(t *testing.T, s string) {
		r := &reader{file: "s.yaml", places: map[string]Place{}, spoiled: map[string]bool{}, above: map[string]bool{},
			others: map[string]Named{"o.csv": {"o.csv", []byte(s)}}}
		season := &model.Season{Programmes: []model.Programme{{ID: "p"}}, Habits: model.DefaultHabits()}
		list, ok := r.serviceTable(&source{file: field{value: "o.csv"}}, season)
		if ok != (len(r.faults) == 0) {
			t.Fatalf("%v, %v", ok, r.faults)
		}
		for _, a := range list {
			if a.date == 0 || a.lasts < 0 {
				t.Fatalf("%+v", a)
			}
		}
	})
}

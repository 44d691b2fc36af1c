package seasonfile

import (
	"strings"
	"testing"

	"primaprova/model"
)

// TestOfferEdits gives each edit with the bytes that must come of it.
func TestOfferEdits(t *testing.T) {
	const plain = "title: T\ntime_zone: Europe/Oslo\nfrom: 2027-03-01\nto: 2027-03-31\n"
	const programme = `programmes:
  - id: p
    services: [{rehearsal: 2027-03-30 10:00, lasts: 60 min}]
    parts:
      - id: a
        arrives: 2027-03-01
        passages:   # marked at home
          - {bars: 1-8, hard: 3}   # first
          - bars: 9-16
            hard: 1
          - {bars: 17-24}
      - id: b
        arrives: 2027-03-01
        estimate: 60 min
`
	caps := func(f *File) (*File, error) {
		return f.SetCaps([]model.Date{march(5), march(8)}, []model.Minutes{150, 160})
	}
	play := func(f *File) (*File, error) { return f.PlayOn(march(8)) }
	leave := func(f *File) (*File, error) { return f.LeavePassages([]string{"p/a/1-8", "p/a/17-24"}) }
	daily := func(f *File) (*File, error) { return f.SetDaily([]string{"p/a/1-8", "p/a/9-16"}) }
	estimate := func(f *File) (*File, error) { return f.SetEstimate("p/a", 90) }
	visits := func(f *File) (*File, error) {
		return f.SetVisits(map[string][]model.Minutes{"p/a/1-8": {15, 10}, "p/a/9-16": {5}})
	}
	sooner := func(f *File) (*File, error) { return f.SetReadyDays("p/a", 9) }
	const two = "2027-03-05: 150 min, 2027-03-08: 160 min"
	for _, c := range []struct {
		name     string
		edit     func(*File) (*File, error)
		from, to string
	}{
		{"caps beside one for every day", caps, plain + "limits: {playing: 2 h}   # mine\n" + programme,
			plain + "limits: {playing: {every day: 2 h, " + two + "}}   # mine\n" + programme},
		{"caps beside others, in braces", caps, plain + "limits:\n  playing: {every day: 120 min, sunday: 60 min}\n" + programme,
			plain + "limits:\n  playing: {every day: 120 min, sunday: 60 min, " + two + "}\n" + programme},
		{"caps beside others, a line each", caps, plain + "limits:\n  playing:\n    every day: 120 min\n    2027-03-05: 30 min   # tired\n  warm_up: 5 min\n" + programme,
			plain + "limits:\n  playing:\n    every day: 120 min\n    2027-03-05: 150 min   # tired\n    2027-03-08: 160 min\n  warm_up: 5 min\n" + programme},
		{"caps where there are none", caps, plain + "limits: {warm_up: 5 min}\n" + programme,
			plain + "limits: {warm_up: 5 min, playing: {every day: 180 min, " + two + "}}\n" + programme},
		{"caps where there are no limits", caps, plain + programme,
			plain + programme + "limits: {playing: {every day: 180 min, " + two + "}}\n"},
		{"a rest day that is none", play, plain + "limits: {rest_days: [monday]}\n" + programme,
			plain + "limits: {rest_days: [monday], played: [2027-03-08]}\n" + programme},
		{"a second one", play, plain + "limits:\n  rest_days: [monday]\n  played: [2027-03-01]\n" + programme,
			plain + "limits:\n  rest_days: [monday]\n  played: [2027-03-01, 2027-03-08]\n" + programme},
		{"passages that go", leave, plain + programme,
			plain + strings.Replace(strings.Replace(programme, "          - {bars: 1-8, hard: 3}   # first\n", "", 1), "          - {bars: 17-24}\n", "", 1)},
		{"passages visited day by day", daily, plain + programme,
			plain + strings.Replace(strings.Replace(programme, "hard: 3}", "hard: 3, daily: yes}", 1), "            hard: 1\n", "            hard: 1\n            daily: yes\n", 1)},
		{"recipes of their own", visits, plain + strings.Replace(programme, "hard: 3}", "visits: [20 min, 10 min, 5 min], hard: 3}", 1),
			plain + strings.Replace(strings.Replace(programme, "hard: 3}", "visits: [15 min, 10 min], hard: 3}", 1), "            hard: 1\n", "            hard: 1\n            visits: [5 min]\n", 1)},
		{"ready sooner than others", sooner, plain + programme,
			plain + strings.Replace(programme, "          - {bars: 17-24}\n", "          - {bars: 17-24}\n        ready_days: 9\n", 1)},
		{"and another time", sooner, plain + strings.Replace(programme, "        passages:", "        ready_days: 3 days   # soon\n        passages:", 1),
			plain + strings.Replace(programme, "        passages:", "        ready_days: 9   # soon\n        passages:", 1)},
		{"an estimate", estimate, plain + programme,
			plain + programme[:strings.Index(programme, "passages:")] + "estimate: 90 min\n" + programme[strings.Index(programme, "      - id: b"):]},
		{"another estimate", func(f *File) (*File, error) { return f.SetEstimate("p/b", 40) }, plain + programme,
			plain + strings.Replace(programme, "estimate: 60 min", "estimate: 40 min", 1)},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := c.edit(parsed(t, c.from))
			if err != nil {
				t.Fatal(err)
			}
			if string(got.Source) != c.to {
				t.Errorf("got\n%s\nwant\n%s", got.Source, c.to)
			}
		})
	}
}

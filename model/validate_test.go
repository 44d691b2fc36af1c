package model

import (
	"fmt"
	"strings"
	"testing"
	"time"
	_ "time/tzdata" // so that the zones don't depend on the machine

	"pgregory.net/rapid"
)

// validSeason is the fixture with all that a season can hold.
func validSeason() *Season {
	s, _ := fixture()
	s.Programmes[0].Services = append(s.Programmes[0].Services, Service{Kind: Concert, Date: march(14), Start: 1170, Lasts: 100, Playing: 70})
	s.Hours.Every = []Span{{540, 720}, {840, 960}}
	s.Pins = []Pin{{pageA + "/visit-2", march(4)}}
	return s
}

func part(s *Season) *Part       { return &s.Programmes[0].Parts[0] }
func passage(s *Season) *Passage { return &s.Programmes[0].Parts[0].Passages[0] }

// TestEachFault: one slip is one fault, with its path, in the words of the
// season file.
func TestEachFault(t *testing.T) {
	for _, c := range []struct {
		path string // "!" before it: a warning
		text string
		do   func(s *Season)
	}{
		{"from", "no first day", func(s *Season) { s.From = 0 }},
		{"to", "no last day", func(s *Season) { s.To = 0 }},
		{"to", "ends before it begins on 2027-03-01", func(s *Season) { s.To = march(0) }},
		{"to", "has 1121 days", func(s *Season) { s.To = s.From + 1120 }},
		{"", "", func(s *Season) { s.To = s.From + 1099 }},
		{"time_zone", "not a known time zone", func(s *Season) { s.TimeZone = "Europe/Skerry" }},
		{"time_zone", "not a known time zone", func(s *Season) { s.TimeZone = "" }},
		{"time_zone", "not a known time zone", func(s *Season) { s.TimeZone = "Local" }},

		{"limits.playing.every day", "negative", func(s *Season) { s.Limits.Playing.Every = -1 }},
		{"limits.playing.saturday", "more than 960 min", func(s *Season) { s.Limits.Playing.Weekday = map[time.Weekday]Minutes{time.Saturday: 961} }},
		{"limits.playing.2027-03-12..2027-03-14", "more than 960 min", func(s *Season) { s.Limits.Playing.Dates[0].Value = 2000 }},
		{"limits.playing.2027-03-14..2027-03-12", "ends before it begins", func(s *Season) { s.Limits.Playing.Dates[0].Range = Range{march(14), march(12)} }},
		{"limits.rest_days[1]", "ends before it begins", func(s *Season) { s.Limits.RestDates = []Range{{march(9), march(8)}} }},
		{"limits.days_off[0]", "ends before it begins", func(s *Season) { s.Limits.DaysOff = []Range{{march(9), march(8)}} }},
		{"limits.warm_up", "negative", func(s *Season) { s.Limits.WarmUp = -10 }},
		{"limits.listening", "negative", func(s *Season) { s.Limits.Listening = -1 }},
		{"limits.passages", "less than 1", func(s *Season) { s.Limits.Passages = 0 }},
		{"limits.block", "less than 10 min", func(s *Season) { s.Limits.Block = 9 }},
		{"", "", func(s *Season) { s.Limits.Block = 15 }},
		{"limits.block_rest", "negative", func(s *Season) { s.Limits.BlockRest = -5 }},
		{"limits.heavy", "more than 100", func(s *Season) { s.Limits.Heavy = 101 }},
		{"limits.rise", "negative", func(s *Season) { s.Limits.Rise = -1 }},
		{"limits.light", "more than 100", func(s *Season) { s.Limits.Light = 101 }},
		{"limits.rise_floor", "negative", func(s *Season) { s.Limits.RiseFloor = -1 }},

		{"hours.every day[1]", "begins before 09:00-12:00 ends", func(s *Season) { s.Hours.Every[1].From = 700 }},
		{"hours.every day[0]", "ends before it begins", func(s *Season) { s.Hours.Every[0] = Span{720, 540} }},
		{"hours.sunday[0]", "leaves the day", func(s *Season) { s.Hours.Weekday = map[time.Weekday][]Span{time.Sunday: {{1400, 1500}}} }},

		{"habits.step", "less than 1 min", func(s *Season) { s.Habits.Step = 0 }},
		{"habits.visits[2]", "less than 1", func(s *Season) { s.Habits.Visits[3] = 0 }},
		{"habits.first[0]", "more than 120 min", func(s *Season) { s.Habits.First[1] = 121 }},
		{"habits.shares", "empty", func(s *Season) { s.Habits.Shares = nil }},
		{"habits.shares[1]", "less than 1", func(s *Season) { s.Habits.Shares[1] = 0 }},
		{"habits.least_gaps[0]", "less than 1", func(s *Season) { s.Habits.LeastGaps[0] = 0 }},
		{"habits.preferred_gaps[1]", "before visit 3 is shorter than the least gap of 2 days", func(s *Season) { s.Habits.PreferredGaps[1] = 1 }},
		{"habits.preferred_gaps[3]", "before visit 6 is shorter", func(s *Season) { s.Habits.LeastGaps = []int{1, 2, 4, 5, 10} }},
		{"habits.visit_values[0]", "negative", func(s *Season) { s.Habits.VisitValues[0] = -16 }},
		{"habits.fresh_days", "gone stale", func(s *Season) { s.Habits.FreshDays = 2 }},
		{"habits.ready_days", "negative", func(s *Season) { s.Habits.ReadyDays = -1 }},
		{"habits.last_days", "less than 1", func(s *Season) { s.Habits.LastDays = 0 }},
		{"habits.service_playing", "more than 100", func(s *Season) { s.Habits.ServicePlaying = 101 }},

		{"programmes", "no programmes", func(s *Season) { s.Programmes, s.Pins = nil, nil }},
		{"programmes", "no programme has a part", func(s *Season) { s.Programmes[0].Parts, s.Pins = nil, nil }},
		{"programmes[0].id", "missing", func(s *Season) { s.Programmes[0].ID = "" }},
		{"programmes[0].id", "space, slash", func(s *Season) { s.Programmes[0].ID = "ti/de" }},
		{"programmes[0].id", "meaning of its own", func(s *Season) { s.Programmes[0].ID = "warm-up" }},
		{"programmes[1].id", "given twice", func(s *Season) { s.Programmes = append(s.Programmes, Programme{ID: "tide"}) }},
		{"programmes[0].services", "no date that its parts are prepared for", func(s *Season) { s.Programmes[0].Services = nil }},
		{"programmes[0].services[1].concert", "outside the season", func(s *Season) { s.Programmes[0].Services[1].Date = march(22) }},
		{"programmes[0].services[1].concert", "no time of day", func(s *Season) { s.Programmes[0].Services[1].Start = 1440 }},
		{"programmes[0].services[1].lasts", "less than 1 min", func(s *Season) { s.Programmes[0].Services[1].Lasts = 0 }},
		{"programmes[0].services[1].lasts", "more than 720 min", func(s *Season) { s.Programmes[0].Services[1].Lasts = 721 }},
		{"programmes[0].services[1].playing", "no share", func(s *Season) { s.Programmes[0].Services[1].Playing = 101 }},
		{"programmes[0].services[1].playing", "no share", func(s *Season) { s.Programmes[0].Services[1].Playing = -1 }},
		{"!programmes[0].services[1].concert", "begins before the rehearsal at 10:00 of 2027-03-12 is over", func(s *Season) {
			s.Programmes[0].Services[1].Date, s.Programmes[0].Services[1].Start = march(12), 749
		}},
		{"", "", func(s *Season) { s.Programmes[0].Services[1].Date, s.Programmes[0].Services[1].Start = march(12), 750 }},
		{"!programmes[0].services[0].rehearsal", "services of 2027-03-12 take 90 min of playing, more than the cap of 89 min", func(s *Season) { s.Limits.Playing.Dates[0].Value = 89 }},
		{"", "", func(s *Season) { s.Limits.Playing.Dates[0].Value = 90 }},

		{"programmes[0].parts[0].id", "missing", func(s *Season) { part(s).ID = "" }},
		{"programmes[0].parts[1].id", "given twice", func(s *Season) { s.Programmes[0].Parts = append(s.Programmes[0].Parts, *part(s)) }},
		{"programmes[0].parts[0].arrives", "no day on which it arrives", func(s *Season) { part(s).Arrives = 0 }},
		{"programmes[0].parts[0].arrives", "arrives when all is over: its last date is the concert on 2027-03-14", func(s *Season) { part(s).Arrives = march(14) }},
		{"programmes[0].parts[0].arrives", "no day before its last date, the rehearsal on 2027-03-01", func(s *Season) {
			s.Programmes[0].Services = s.Programmes[0].Services[:1]
			s.Programmes[0].Services[0].Date, part(s).Arrives, s.Limits.Playing.Every = march(1), march(-3), 200
		}},
		{"programmes[0].parts[0].listening", "negative", func(s *Season) { part(s).Listening = -1 }},
		{"programmes[0].parts[0].listening", "more than 600 min", func(s *Season) { part(s).Listening = 601 }},
		{"programmes[0].parts[0].listening", "longer than the listening of a day, 45 min", func(s *Season) { part(s).Listening, part(s).Break = 60, 50 }},
		{"programmes[0].parts[0].break", "more than 19 min", func(s *Season) { part(s).Break = 20 }},
		{"programmes[0].parts[0].recordings", "negative", func(s *Season) { part(s).Recordings = -1 }},
		{"programmes[0].parts[0].recordings", "longer than the listening of a day", func(s *Season) { part(s).Recordings = 46 }},
		{"programmes[0].parts[0].ready_days", "more than", func(s *Season) { part(s).ReadyDays = new(s.Habits.FreshDays + 1) }},
		{"programmes[0].parts[0].ready_days", "negative", func(s *Season) { part(s).ReadyDays = new(-1) }},
		{"programmes[0].parts[0].read_through", "less than 1 min", func(s *Season) { part(s).ReadThrough = 0 }},
		{"!programmes[0].parts[0].read_through", "no day of 2027-03-01..2027-03-11 has room for the read-through", func(s *Season) { part(s).ReadThrough = 301 }},
		{"", "", func(s *Season) { part(s).ReadThrough = 50 }},
		{"!programmes[0].parts[0].listening", "takes the listening", func(s *Season) {
			s.Limits.DaysOff, s.Pins = []Range{{march(1), march(13)}}, nil
			s.Programmes[0].Services[0].Missed = true // else it is asked about, too
		}},
		{"!limits.days_off[0]", "1 service, which counts as played", func(s *Season) { s.Limits.DaysOff = []Range{{march(12), march(12)}} }},
		{"", "", func(s *Season) {
			s.Limits.DaysOff = []Range{{march(12), march(12)}}
			s.Programmes[0].Services[0].Missed = true
		}},
		{"!pins[0].date", "a first visit on the day of a concert: the session will be left out", func(s *Season) {
			passage(s).Due, s.Pins = march(16), []Pin{{pageA + "/visit-1", march(14)}}
		}},
		{"programmes[0].parts[0].estimate", "more than 12000 min", func(s *Season) { part(s).Estimate = 12001 }},

		{"programmes[0].parts[0].passages[0].id", "missing", func(s *Season) { passage(s).ID = "" }},
		{"programmes[0].parts[0].passages[1].id", "given twice", func(s *Season) { passage(s).ID = "B" }},
		{"programmes[0].parts[0].passages[0].id", "meaning of its own", func(s *Season) { passage(s).ID = "listening" }},
		{"programmes[0].parts[0].passages[0].id", "begin with unnamed-", func(s *Season) { passage(s).ID = "unnamed-1" }},
		{"programmes[0].parts[0].passages[0].hard", "1 (easy)", func(s *Season) { passage(s).Hard = 4 }},
		{"programmes[0].parts[0].passages[0].hard", "1 (easy)", func(s *Season) { passage(s).Hard = 0 }},
		{"programmes[0].parts[0].passages[0].minutes", "negative", func(s *Season) { passage(s).Minutes = -8 }},
		{"programmes[0].parts[0].passages[0].minutes", "more than 120 min", func(s *Season) { passage(s).Minutes = 121 }},
		{"programmes[0].parts[0].passages[0].visits[1]", "less than 1 min", func(s *Season) { passage(s).Visits = []Minutes{10, 0} }},
		{"programmes[0].parts[0].passages[0].visits", "more visits than 20", func(s *Season) { passage(s).Visits = make10(21) }},
		{"programmes[0].parts[0].passages[0].due", "due before its part arrives", func(s *Season) { passage(s).Due = march(1) }},
		{"programmes[0].parts[0].passages[0].due", "due after the season ends", func(s *Season) { passage(s).Due = march(22) }},
		{"", "", func(s *Season) { passage(s).Due = march(21) }},
		{"programmes[0].parts[0].passages[0].tempo.goal", "goal is missing", func(s *Season) { passage(s).Tempo.Now = 60 }},
		{"programmes[0].parts[0].passages[0].tempo.goal", "not on a metronome", func(s *Season) { passage(s).Tempo.Goal = 209 }},
		{"programmes[0].parts[0].passages[0].tempo.now", "not on a metronome", func(s *Season) { passage(s).Tempo = Pace{39, 96} }},
		{"programmes[0].parts[0].passages[0].tempo.now", "faster than the goal", func(s *Season) { passage(s).Tempo = Pace{97, 96} }},
		{"!programmes[0].parts[0].passages[0].tempo", "from 40 its 4 visits lead to 66, under the goal of 96", func(s *Season) { passage(s).Tempo = Pace{40, 96} }},
		{"", "", func(s *Season) { passage(s).Tempo = Pace{96, 96} }},
		{"habits.tempo_steps", "less than 1", func(s *Season) { s.Habits.TempoSteps = 0 }},
		{"programmes[0].parts[0].passages[0].found", "before it was found", func(s *Season) { passage(s).Found, passage(s).Due = march(9), march(9) }},

		// Gaps 1, 2, 4, 5, 5: after a read-through on the 1st there are the ten
		// days from the 2nd to the 11th.
		{"!programmes[0].parts[0].passages[0].visits", "5 visits with least gaps of 1, 2, 4, 5 days need 13 days; there are 10, 2027-03-02..2027-03-11", func(s *Season) { passage(s).Visits = make10(5) }},
		{"", "", func(s *Season) { passage(s).Visits = make10(4) }},
		// The 1st is a rest day, so the read-through is on the 2nd and visits begin on the 3rd: 3, 4, 6, 10.
		{"!programmes[0].parts[0].passages[0].visits", "need 8 days with room for them", func(s *Season) {
			passage(s).Visits, s.Programmes[0].Services = make10(4), s.Programmes[0].Services[:1:1]
			s.Programmes[0].Services = append(s.Programmes[0].Services, Service{Kind: Concert, Date: s.Programmes[0].Services[0].Date, Start: 20 * 60, Lasts: 30})
			s.Limits.RestDates = []Range{{march(10), march(11)}}
		}},
		{"!programmes[0].parts[0]", "2 of 2 passages have no day before they are due, and will not be worked at: A, B", func(s *Season) { part(s).Arrives, s.Pins = march(13), nil }},
		{"", "", func(s *Season) { part(s).Arrives, s.Pins = march(12), nil }},

		{"!programmes[0].services", "no concert is given", func(s *Season) { s.Programmes[0].Services = s.Programmes[0].Services[:1] }},
		{"!limits.rest_days", "lies outside the season", func(s *Season) { s.Limits.RestDates = []Range{{march(-80), march(-79)}} }},
		{"!limits.playing.2026-12-11", "lies outside the season", func(s *Season) {
			s.Limits.Playing.Dates = append(s.Limits.Playing.Dates, Dated[Minutes]{Range{march(-79), march(-79)}, 60})
		}},
		{"!programmes[0].parts[0].estimate", "so the estimate adds nothing", func(s *Season) { part(s).Estimate = 20 }},
		{"!programmes[0].parts[0].passages[1].bars", "passage 1 has the same bars", func(s *Season) { part(s).Passages[0].Bars, part(s).Passages[1].Bars = "1-8", "1-8" }},
		{"!programmes[0].services[0].rehearsal", "falls on Pupils, 09:00 to 10:30", func(s *Season) {
			s.Other = []Other{{Title: "Pupils", Dates: []Range{{s.Programmes[0].Services[0].Date, s.Programmes[0].Services[0].Date}}, At: Span{9 * 60, 10*60 + 30}}}
		}},
		{"!other_playing[0].on", "is on no day of the season", func(s *Season) {
			s.Other = []Other{{Title: "Pupils", Dates: []Range{{march(-79), march(-79)}}, Lasts: 60}}
		}},
		{"!limits.days_off[0]", "lies outside the season", func(s *Season) { s.Limits.DaysOff = []Range{{march(-80), march(-79)}} }},
		{"!programmes[1].parts", "has no parts", func(s *Season) {
			s.Programmes = append(s.Programmes, Programme{ID: "empty", Services: []Service{{Kind: Concert, Date: march(18), Start: 600, Lasts: 60}}})
		}},
		{"!programmes[0].services[2].concert", "comes before the first rehearsal on 2027-03-12", func(s *Season) {
			s.Programmes[0].Services = append(s.Programmes[0].Services, Service{Kind: Concert, Date: march(9), Start: 1200, Lasts: 60})
		}},
		{"!programmes[0].parts[0].arrives", "arrives long before the season begins", func(s *Season) { part(s).Arrives = march(3) - 365 }},
		{"!programmes[0].parts[0]", "nothing of it is worked at", func(s *Season) { part(s).Passages, s.Pins = nil, nil }},
		{"!programmes[0].services[0].rehearsal", "falls on Lessons, 09:00 to 10:30", func(s *Season) {
			s.Busy = []Busy{{Date: march(12), Span: Span{540, 630}, Title: "Lessons"}}
		}},

		{"pins[0].session", "names no session", func(s *Season) { s.Pins[0].Session = "" }},
		{"pins[0].session", "no such session", func(s *Season) { s.Pins[0].Session = "tide/ferry/A/visit-1" }},
		{"pins[0].session", "no such session", func(s *Season) { s.Pins[0].Session = slate + "/warm-up" }},
		{"!pins[0].session", "only the record may", func(s *Season) { s.Pins[0].Session = slate + "/C/visit-1" }},
		{"!pins[0].session", "only the record may", func(s *Season) { s.Pins[0].Session = pageA + "/visit-5" }},
		{"pins[0].date", "its window is 2027-03-01..2027-03-11", func(s *Season) { s.Pins[0].Date = march(12) }},
		{"pins[0].date", "its window is 2027-03-02..2027-03-11", func(s *Season) { s.Pins[0] = Pin{slate + "/recordings", march(1)} }},
		{"!pins[0].date", "rest day", func(s *Season) { s.Pins[0].Date = march(8) }},
		{"", "", func(s *Season) { s.Pins[0] = Pin{slate + "/recordings", march(8)} }},
		{"!pins[0].date", "day off", func(s *Season) { s.Limits.DaysOff = []Range{{march(5), march(5)}}; s.Pins[0].Date = march(5) }},
		{"pins[1].session", "pinned to 2027-03-04 as well", func(s *Season) { s.Pins = append(s.Pins, Pin{pageA + "/visit-2", march(5)}) }},
		{"", "", func(s *Season) { s.Pins = append(s.Pins, s.Pins[0]) }},
	} {
		t.Run(c.path+" "+c.text, func(t *testing.T) {
			s := validSeason()
			c.do(s)
			faults := s.Validate()
			if c.path == "" {
				if len(faults) > 0 {
					t.Errorf("found fault with a season without: %+v", faults)
				}
				return
			}
			path, warning := strings.CutPrefix(c.path, "!")
			if len(faults) != 1 {
				t.Fatalf("%d faults instead of one: %+v", len(faults), faults)
			}
			if f := faults[0]; f.Path != path || f.Warning != warning || !strings.Contains(f.Text, c.text) {
				t.Errorf("%+v", f)
			}
		})
	}
}

func make10(n int) []Minutes {
	out := make([]Minutes, n)
	for i := range out {
		out[i] = 10
	}
	return out
}

func TestAllFaultsAtOnce(t *testing.T) {
	s := validSeason()
	s.TimeZone = "nowhere"
	s.Limits.WarmUp = -1
	s.Programmes[0].ID = ""
	part(s).Arrives = march(20)
	passage(s).Minutes = 500
	var paths []string
	for _, f := range s.Validate() {
		if f.Warning {
			continue
		}
		paths = append(paths, f.Path)
		if f.Advice == "" {
			t.Errorf("%s: no advice", f.Path)
		}
	}
	want := "[time_zone limits.warm_up programmes[0].id programmes[0].parts[0].arrives programmes[0].parts[0].passages[0].minutes]"
	if got := fmt.Sprint(paths); got != want {
		t.Errorf("%s instead of %s", got, want)
	}
}

// TestValidateTakesAnything: whatever stands in a season, judging it ends, and
// what passes can be planned, laid out, measured and audited.
func TestValidateTakesAnything(t *testing.T) {
	passed, failed := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		s := anySeason(t)
		odd := rapid.SampledFrom([]int{-1000000, -1, 0, 1, 7, 100000, 1 << 40})
		minutes := func() Minutes { return Minutes(odd.Draw(t, "minutes")) }
		for range rapid.IntRange(0, 3).Draw(t, "slips") {
			p := &s.Programmes[0]
			switch rapid.IntRange(0, 21).Draw(t, "slip") {
			case 0:
				s.From = Date(odd.Draw(t, "from"))
			case 1:
				s.To += Date(rapid.SampledFrom([]int{-1000, -20, -1, 1, 500}).Draw(t, "to"))
			case 2:
				s.Limits.Playing.Every = minutes()
			case 3:
				s.Limits.WarmUp = minutes()
			case 4:
				s.Limits.Block = minutes()
			case 5:
				s.Habits.Step = minutes()
			case 6:
				s.Habits.Shares = rapid.SliceOfN(odd, 0, 3).Draw(t, "shares")
			case 7:
				s.Habits.LeastGaps = rapid.SliceOfN(odd, 0, 3).Draw(t, "gaps")
			case 8:
				s.Habits.Visits[2] = odd.Draw(t, "visits")
			case 9:
				s.Hours.Every = []Span{{Clock(odd.Draw(t, "from")), Clock(odd.Draw(t, "to"))}}
			case 10:
				p.Services = nil
			case 11:
				p.Services[0].Lasts = minutes()
			case 12:
				p.Services[0].Start = Clock(minutes())
			case 13:
				p.Services[0].Date += Date(rapid.IntRange(-40, 40).Draw(t, "moved"))
			case 14:
				p.Parts[0].Arrives += Date(rapid.IntRange(-40, 40).Draw(t, "moved"))
			case 15:
				p.Parts[0].Estimate = minutes()
			case 16:
				p.Parts[0].ReadThrough = minutes()
			case 17:
				p.Parts[0].Passages = append(p.Parts[0].Passages, Passage{ID: "Z", Hard: odd.Draw(t, "hard")})
			case 18:
				p.Parts[0].Passages = append(p.Parts[0].Passages, Passage{ID: "Z", Hard: 1, Visits: []Minutes{minutes(), minutes()}})
			case 19:
				s.Pins = append(s.Pins, Pin{slate + "/read-through", s.From + Date(rapid.IntRange(-3, 40).Draw(t, "pin"))})
			case 20:
				s.Limits.Playing.Dates = append(s.Limits.Playing.Dates, Dated[Minutes]{Range{s.To, s.From}, minutes()})
			case 21:
				p.Parts = nil
			}
			if len(s.Programmes[0].Services) == 0 || len(s.Programmes[0].Parts) == 0 {
				break
			}
		}
		for _, f := range s.Validate() {
			if f.Path == "" || f.Text == "" {
				t.Fatalf("says nothing: %+v", f)
			}
			if !f.Warning {
				failed++
				return
			}
		}
		passed++
		p := firstFit(s, nil)
		for _, b := range s.Audit(p, nil) {
			t.Errorf("%v (%s)", b, b.Name)
		}
		s.Measure(p, nil, nil)
		s.Needs(nil)
	})
	if passed == 0 || failed == 0 {
		t.Errorf("%d passed, %d failed", passed, failed)
	}
}

package main

import (
	"bytes"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"primaprova/io/ical"
	"primaprova/model"
)

// calendarSettings are those that say what a calendar looks like.
var calendarSettings = []string{"calendar", "colour", "alarm", "day_alarm", "services", "refresh"}

var entries = map[string]ical.Entries{"fitting": ical.Fitting, "sessions": ical.Sessions, "blocks": ical.Blocks, "days": ical.Days}

// byProgramme is the value of the setting colour that is no colour.
const byProgramme = "programmes"

// calendarOptions takes the settings as io/ical wants them.
func (a *app) calendarOptions(h *model.History) ical.Options {
	o := ical.Options{Entries: entries[a.set.get("calendar")], Color: a.set.get("colour"),
		Services: a.set.get("services") == "yes", Refresh: a.set.time("refresh"), Locale: a.say.locale, History: h}
	if o.Color == byProgramme {
		o.Color, o.ByProgramme = "", true
	}
	if d, err := time.ParseDuration(a.set.get("alarm")); err == nil {
		m := model.Minutes(d / time.Minute)
		o.Alarm = &m
	}
	if c, err := model.SaidClock(a.set.get("day_alarm")); err == nil {
		o.DayAlarm = &c
	}
	return o
}

// narrowing is what of the plan a calendar is to hold.
type narrowing struct{ programme, part, from, to string }

func (n *narrowing) flags(c *cobra.Command) {
	c.Flags().StringVar(&n.programme, "programme", "", "of the calendar: this `programme` alone")
	c.Flags().StringVar(&n.part, "part", "", "of the calendar: this `part` alone")
	c.Flags().StringVar(&n.from, "from", "", "of the calendar or the sheets: from this `date` on")
	c.Flags().StringVar(&n.to, "to", "", "of the calendar or the sheets: up to this `date`")
}

func (n *narrowing) only(s *model.Season) (ical.Only, error) {
	var o ical.Only
	for _, x := range []struct {
		flag, value string
		date        *model.Date
	}{{"from", n.from, &o.From}, {"to", n.to, &o.To}} {
		if x.value == "" {
			continue
		}
		d, err := model.SaidDate(x.value)
		if err != nil {
			return o, wrong("export: --%s: %v", x.flag, err)
		}
		*x.date = d
	}
	if o.From != 0 && o.To != 0 && o.To < o.From {
		return o, wrong("export: --to %s: lies before --from %s", o.To, o.From)
	}
	if n.part != "" {
		name, err := partNamed(s, n.part)
		if err != nil {
			return o, err
		}
		o.Part = name
	}
	if n.programme != "" {
		if !slices.ContainsFunc(s.Programmes, func(p model.Programme) bool { return p.ID == n.programme }) {
			return o, wrong("%q is no programme of the season", n.programme).then("show programme")
		}
		o.Programme = n.programme
	}
	return o, nil
}

// calendar writes the plan as iCalendar.
func (a *app) calendar(h *happened, p *model.Plan, n *narrowing) ([]byte, error) {
	only, err := n.only(h.season)
	if err != nil {
		return nil, err
	}
	o := a.calendarOptions(h.history)
	o.Only = only
	var b bytes.Buffer
	if err := ical.Write(&b, h.season, p, o); err != nil {
		return nil, wrong("export: %v", err)
	}
	return b.Bytes(), nil
}

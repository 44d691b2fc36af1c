package main

import (
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"github.com/spf13/viper"

	"primaprova/io/table"
	"primaprova/model"
)

const envPrefix = "PRIMAPROVA"

// setting is one thing the user may set: by its flag, by its environment
// variable, in the settings file, in this order.
type setting struct {
	name  string
	value string // the default
	help  string
	check func(string) error
}

// known lists every setting. A command takes the flags of those it needs.
var known = []setting{
	{"season", "season.yaml", "season `file` of commands that name none", nil},
	{"width", "0", "`columns` to lay results out for; 0: the terminal's", number(0, 1000)},
	{"today", "", "`date` taken for today, like 2027-01-31; empty: the season's own today", dateOrNone},
	{"engines", "", "`folder` that holds the OR-Tools libraries; empty: the built-in ones", nil},
	{"unrecorded", "done", "what planned sessions of days gone by are when the record is silent: `done`, not-done", oneOf("done", "not-done")},
	{"learn", "no", "plan with what the record taught of the estimates, `yes` or no; check shows it", oneOf("yes", "no")},
	{"left_out", "untouched", "what has to be left out for exit code 3: `untouched` (something is not read, or not worked at at all), anything, nothing", oneOf("untouched", "anything", "nothing")},
	{"seed", "1", "`number` that chance starts from; the same one gives the same plan", number(0, 1<<31-1)},
	{"budget", "100", "`percent` of the ordinary work put into planning", number(1, 10000)},
	{"gap", "1", "`percent` of itself by which a wish may lie above its bound and be good enough; 0: all work is done", number(0, 100)},
	{"tolerance", model.DefaultTolerance.String(), "how many `percent` of a wish may be spent on those after it, like body 2, or none", tolerance},
	{"limit", "0", "longest `time` to plan, like 90s or 5m; 0: until the budget is used", length},
	{"most", "0", "most playing `minutes` of a day that you would ever do, for the offers of why; 0: never above the caps", number(0, 1440)},
	{"calendar", "fitting", "a calendar's `entries`: sessions, blocks (from rest to rest), days, or fitting: sessions where the season gives hours", oneOf("fitting", "sessions", "blocks", "days")},
	{"colour", "", "a calendar's colour, by its CSS `name`; programmes: one for each programme", colourName},
	{"alarm", "none", "so long before a block the calendar calls, like `10m`; none: never", noneOr(length)},
	{"day_alarm", "none", "when on a day without hours the calendar calls, like `08:00`; none: never", noneOr(clockTime)},
	{"services", "no", "rehearsals and concerts in the calendar too, `yes` or no", oneOf("yes", "no")},
	{"server", "", "`address` of a calendar on a server, to publish to", nil},
	{"credentials", "", "`file` of two lines, user and password, for the calendar server; empty: the user's own", nil},
	{"listen", "127.0.0.1:8347", "`address` and port to serve a calendar at", nil},
	{"stand", ":8348", "`address` and port of the page at the stand; without an address, all of this machine's on networks of one's own", nil},
	{"refresh", "24h", "how often who subscribes to the calendar should look again, like `1h`", length},
	{"dates", "day-month", "how dates are `written`: day-month (Mon 2 Jan), month-day (Mon, Jan 2), iso", oneOf("day-month", "month-day", "iso")},
	{"weekdays", "", "seven `names` from Monday on, for the English ones", names(7, "weekdays")},
	{"months", "", "twelve `names` from January on, for the English ones", names(12, "months")},
	{"first_weekday", "monday", "`weekday` that weeks begin with where they are shown; limits count by ISO weeks", weekday},
	{"clock", "24", "`hours` of the clock: 24 or 12", oneOf("24", "12")},
	{"formulas", "defused", "texts in a CSV that a spreadsheet would take for formulas: `defused`, by a ' before them, or kept", oneOf("defused", "kept")},
	{"paper", "a4", "`sheet` to print on: a4, a3, a2, letter, tabloid", oneOf("a4", "a3", "a2", "letter", "tabloid")},
	{"large", "", "`sheet` for what shows the whole season at once; empty: twice the paper", oneOf("", "a4", "a3", "a2", "letter", "tabloid")},
	{"orientation", "landscape", "how printed sheets are `held`: landscape or portrait", oneOf("landscape", "portrait")},
	{"sheets", "season,months", "what is `printed`: season, months, weeks, days, parts, with commas between", sheetList},
	{"font", "", "TrueType `file` for letters that the printed sheets' own fonts lack", nil},
}

// settings gives the values that hold for this run, and where each comes from.
type settings struct {
	v         *viper.Viper
	flags     *pflag.FlagSet
	file      string   // the settings file read; empty when there is none
	strangers []string // what the environment sets and nothing reads
}

// addSettings gives a command the flags of some settings.
func addSettings(c *cobra.Command, names ...string) {
	for _, s := range known {
		if slices.Contains(names, s.name) {
			value := text(s.value)
			c.Flags().Var(&value, s.name, s.help)
		}
	}
}

// text is a flag's value as it was written: it is checked together with those
// from the environment and the settings file.
type text string

func (t *text) String() string { return string(*t) }

func (t *text) Set(s string) error { *t = text(s); return nil }

func (t *text) Type() string { return "text" }

// readSettings takes flags over environment over settings file over defaults,
// and tells every fault in them at once.
func readSettings(flags *pflag.FlagSet) (*settings, error) {
	s := &settings{v: viper.New(), flags: flags}
	s.v.SetEnvPrefix(envPrefix)
	for _, k := range known {
		s.v.SetDefault(k.name, k.value)
		if err := s.v.BindEnv(k.name); err != nil {
			return nil, err
		}
		if f := flags.Lookup(k.name); f != nil {
			if err := s.v.BindPFlag(k.name, f); err != nil {
				return nil, err
			}
		}
	}
	faults := s.readFile()
	s.strangers = strangers(os.Environ())
	for _, k := range known {
		value := s.get(k.name)
		if k.check == nil {
			continue
		}
		if err := k.check(value); err != nil {
			faults = append(faults, fmt.Sprintf("%s: %s %v", s.named(k.name), strconv.Quote(value), err))
		}
	}
	if len(faults) > 0 {
		return nil, &trouble{code: exitInput, lines: faults, next: "settings --help"}
	}
	return s, nil
}

// source tells where a setting's value comes from, in the user's words.
func (s *settings) source(name string) string {
	if f := s.flags.Lookup(name); f != nil && f.Changed {
		return "--" + name
	}
	if env := envPrefix + "_" + strings.ToUpper(name); os.Getenv(env) != "" {
		return env
	}
	if s.v.InConfig(name) {
		return s.file
	}
	return "default"
}

// named gives where a setting comes from, with its name: once, where it is a flag.
func (s *settings) named(name string) string {
	if from := s.source(name); from != "--"+name {
		return from + ": " + name
	}
	return "--" + name
}

func (s *settings) get(name string) string { return s.v.GetString(name) }

func (s *settings) date(name string) model.Date {
	d, _ := model.SaidDate(s.get(name))
	return d
}

func (s *settings) time(name string) time.Duration {
	d, _ := time.ParseDuration(s.get(name))
	return d
}

func settingsCommand(a *app) *cobra.Command {
	var save *bool
	c := &cobra.Command{
		Use:   "settings",
		Short: "every setting, its value and where that comes from",
		Long: `Prints every setting, the value that holds, and where it comes from.

A flag counts before an environment variable (PRIMAPROVA_ and the setting's
name in capitals), that before the settings file, that before the default. The
settings file is YAML, one line a setting, for example

    season: tide.yaml
    calendar: days

It is looked for as primaprova/settings.yaml in the user's configuration folder;
--settings FILE or PRIMAPROVA_SETTINGS names another. With --save what the flags
say is written there, and holds from then on.`,
		Args: atMost(0),
		RunE: func(c *cobra.Command, _ []string) error {
			if *save {
				return a.saveSettings(c)
			}
			t := &table.Table{Columns: []table.Column{{Name: "setting"}, {Name: "value"}, {Name: "from", From: desk}, {Name: "what it is", Wraps: true, From: phone}}}
			for _, k := range known {
				t.Row(k.name, bare(a.set.get(k.name)), a.set.source(k.name), strings.ReplaceAll(k.help, "`", ""))
			}
			a.say.table(t)
			if a.set.file == "" {
				if path, _ := settingsPath(a.set.flags); path != "" {
					a.say.aside("No settings file; one would be read from %s.", path)
				}
			}
			return nil
		},
	}
	save = c.Flags().Bool("save", false, "write what the other flags say into the settings file")
	for _, k := range known {
		addSettings(c, k.name)
	}
	return c
}

// saveSettings writes the settings that flags give into the settings file.
func (a *app) saveSettings(c *cobra.Command) error {
	values := map[string]string{}
	for _, k := range known {
		if f := c.Flags().Lookup(k.name); f.Changed {
			values[k.name] = f.Value.String()
		}
	}
	if len(values) == 0 {
		return wrong("settings --save: no flag says what is to be kept, like --learn yes").then("settings --help")
	}
	return a.keepSettings(values)
}

func (a *app) keepSettings(values map[string]string) error {
	if err := a.set.keep(values); err != nil {
		return err
	}
	path, _ := settingsPath(a.set.flags)
	a.say.aside("Wrote %s.", path)
	return nil
}

package seasonfile

import (
	"bytes"
	"cmp"
	_ "embed"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"text/template"

	"go.yaml.in/yaml/v3"

	"primaprova/model"
)

// Start is what a new season file begins with. Zero values have defaults: a
// title of its own, Europe/Oslo, twelve weeks, "double bass".
type Start struct {
	Title, TimeZone, Instrument string
	From, To                    model.Date // From must be given
	// RestDays are written as they are said, [monday] where there are none.
	RestDays string
	// Bare asks for a season without the example; Programmes is what it has in its place,
	// in the form of the file.
	Bare       bool
	Programmes string
	// Earlier is the season before, whose limits, hours and habits go over, and Learnt
	// and Works what its record and those of earlier ones taught.
	Earlier *File
	Learnt  model.Learnt
	Works   []model.Tally
	// Path is where the file will be, by which other files that it names are found.
	Path string
}

// least is the shortest season that a new file may have, in days: its example
// programme has its first rehearsal in the fourth week.
const least = 28

//go:embed new.yaml.tmpl
var newSeason string

// New writes a season file to start from: one programme as an example, and
// every other key with its default, commented out, and where the default comes
// from. What it writes is read back without a fault.
func New(w io.Writer, o Start) error {
	if o.Title == "" {
		o.Title = "My season"
	}
	if o.TimeZone == "" {
		o.TimeZone = "Europe/Oslo"
	}
	if o.Instrument == "" {
		o.Instrument = "double bass"
	}
	if o.To == 0 {
		o.To = o.From + 7*12 - 1
	}
	if o.RestDays == "" {
		o.RestDays = "monday"
	}
	example := !o.Bare && o.Programmes == ""
	if days := (model.Range{From: o.From, To: o.To}).Days(); example && days < least {
		return fmt.Errorf("a new season lasts %d days at least, this one would last %d", least, days)
	}
	before, after := "", ""
	if o.Earlier != nil {
		var err error
		if before, err = o.Earlier.over(o.Path, model.Range{From: o.From, To: o.To}); err != nil {
			return err
		}
		before = strings.TrimSpace(before + "\n\n" + learntText(o.Learnt, o.Works))
		after = filepath.ToSlash(o.Earlier.Path)
	}
	t := template.Must(template.New("season").Funcs(template.FuncMap{
		"text": quote, "trim": strings.TrimSpace,
		"day": func(n int) string { return (o.From.Monday() + model.Date(n)).String() },
	}).Parse(newSeason))
	var b bytes.Buffer
	if err := t.Execute(&b, struct {
		Start
		Before, After string
	}{o, before, after}); err != nil {
		return err
	}
	if _, err := parse(cmp.Or(o.Path, "the new season"), b.Bytes(), nil, Sources{Begun: o.Bare}); err != nil {
		return err
	}
	_, err := w.Write(b.Bytes())
	return err
}

// quote writes a text as YAML, with quotes only where it needs them.
func quote(s string) (string, error) {
	b, err := yaml.Marshal(s)
	return strings.TrimRight(string(b), "\n"), err
}

package seasonfile

import (
	"bytes"
	_ "embed"
	"fmt"
	"io"
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
	if days := (model.Range{From: o.From, To: o.To}).Days(); days < least {
		return fmt.Errorf("a new season lasts %d days at least, this one would last %d", least, days)
	}
	t := template.Must(template.New("season").Funcs(template.FuncMap{
		"text": quote,
		"day":  func(n int) string { return (o.From.Monday() + model.Date(n)).String() },
	}).Parse(newSeason))
	var b bytes.Buffer
	if err := t.Execute(&b, o); err != nil {
		return err
	}
	if _, err := Parse("the new season", b.Bytes()); err != nil {
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

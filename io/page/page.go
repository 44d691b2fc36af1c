package page

import (
	"bufio"
	_ "embed"
	"html/template"
	"io"

	"primaprova/model"
)

// Options says how the page is written.
type Options struct {
	Locale model.Locale
	Today  model.Date // its week stands open; zero: the first one
}

//go:embed page.css
var css string

//go:embed page.html.tmpl
var source string

var sheet = template.Must(template.New("page").Parse(source))

// Write writes the page of a season and its plan. The history may be nil.
func Write(w io.Writer, s *model.Season, p *model.Plan, h *model.History, o Options) error {
	b := bufio.NewWriter(w)
	v := gather(s, p, h, o)
	v.Style = template.CSS(css)
	if err := sheet.Execute(b, v); err != nil {
		return err
	}
	return b.Flush()
}

package page

import (
	"bufio"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"html/template"
	"io"

	"primaprova/model"
)

// Options says how the page is written.
type Options struct {
	Locale   model.Locale
	Today    model.Date                  // the day it shows first where it can't ask the device; zero: the first one
	Recorded map[model.SessionDay]string // what the record says of sessions, in a few words
}

//go:embed page.css
var css string

//go:embed page.js
var script string

//go:embed page.html.tmpl
var source string

var sheet = template.Must(template.New("page").Parse(source))

// Write writes the page of a season and its plan. The history may be nil.
func Write(w io.Writer, s *model.Season, p *model.Plan, h *model.History, o Options) error {
	b := bufio.NewWriter(w)
	v := gather(s, p, h, o)
	style := css + v.rules()
	v.Style, v.StyleHash = template.CSS(style), hash(style)
	v.Script, v.ScriptHash = template.JS(script), hash(script)
	if err := sheet.Execute(b, v); err != nil {
		return err
	}
	return b.Flush()
}

// hash names a text in a policy (Content Security Policy Level 3, section 2.3.1).
func hash(text string) template.HTMLAttr {
	sum := sha256.Sum256([]byte(text))
	return template.HTMLAttr("sha256-" + base64.StdEncoding.EncodeToString(sum[:]))
}

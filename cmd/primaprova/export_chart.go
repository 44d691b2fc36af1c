package main

import (
	"bytes"
	"path/filepath"
	"slices"
	"strings"

	"primaprova/io/chart"
	"primaprova/io/page"
	"primaprova/model"
)

// chartOptions takes the format from the file's name and checks the panels.
func chartOptions(path, panels string, l model.Locale) (chart.Options, error) {
	o := chart.Options{Format: chart.Format(strings.TrimPrefix(strings.ToLower(filepath.Ext(path)), ".")), Locale: l}
	if path != "" && !slices.Contains(chart.Formats, o.Format) {
		return o, wrong("--chart: %s: is a file of no known format; its name ends in .svg, .png or .pdf", path)
	}
	for _, name := range words(panels) {
		if !slices.Contains(chart.Panels, chart.Panel(name)) {
			return o, wrong("--panels: %q is none of %s", name, panelNames(", "))
		}
		o.Panels = append(o.Panels, chart.Panel(name))
	}
	return o, nil
}

// panelNames lists the charts that there are.
func panelNames(between string) string {
	var out []string
	for _, p := range chart.Panels {
		out = append(out, string(p))
	}
	return strings.Join(out, between)
}

func (a *app) exportChart(path string, out *outlet, h *happened, p *model.Plan, o chart.Options) error {
	var b bytes.Buffer
	o.Chances = map[string]float64{}
	for _, c := range newView(a.say, h.season, p, h.history).chances().Parts {
		if c.LeftOut == 0 { // what lacks something is not ready, whatever luck brings
			o.Chances[c.Part] = c.Chance
		}
	}
	missing, err := chart.Write(&b, drawn(h.season), p, h.history, o)
	if err := out.write(chartKind(path), path, b.Bytes(), err); err != nil {
		return err
	}
	a.lacks(path, missing)
	return nil
}

// lacks says which letters a picture could not show.
func (a *app) lacks(path string, missing []rune) {
	if len(missing) > 0 {
		a.say.aside("%s: %s cannot be drawn there; ids stand in place of such names. An SVG has them.", path, spaced(missing))
	}
}

// spaced names a few letters, and how many more there are.
func spaced(letters []rune) string {
	const few = 12
	var out []string
	for _, r := range letters[:min(few, len(letters))] {
		out = append(out, string(r))
	}
	s := strings.Join(out, " ")
	if n := len(letters) - few; n > 0 {
		s += " and " + several(n, "other", "others")
	}
	return s
}

func (a *app) exportPage(path string, out *outlet, h *happened, p *model.Plan) error {
	var b bytes.Buffer
	w := newView(a.say, h.season, p, h.history)
	w.know(h.record.Events)
	err := page.Write(&b, h.season, p, h.history, page.Options{Locale: a.say.locale, Today: a.today(h.season), Recorded: w.recorded})
	return out.write(aPage, path, b.Bytes(), err)
}

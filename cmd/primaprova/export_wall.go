package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"slices"

	"primaprova/io/wall"
	"primaprova/model"
)

// wallSettings are those of sheets to print.
var wallSettings = []string{"paper", "large", "orientation", "sheets", "font"}

// sheetList checks the setting sheets: some of the kinds, each once.
func sheetList(s string) error {
	list := words(s)
	for i, name := range list {
		if !slices.Contains(wall.Sheets, wall.Sheet(name)) {
			return fmt.Errorf("has %q, which is none of season, months, weeks, days, parts", name)
		}
		if slices.Contains(list[:i], name) {
			return fmt.Errorf("has %s twice", name)
		}
	}
	return nil
}

// exportWall writes sheets to print, those with some of the days asked for.
func (a *app) exportWall(path string, out *outlet, h *happened, p *model.Plan, n *narrowing) error {
	only, err := n.only(h.season)
	if err != nil {
		return err
	}
	days := model.Range{From: max(only.From, h.season.From), To: h.season.To}
	if only.To != 0 {
		days.To = min(only.To, h.season.To)
	}
	if days.Days() == 0 {
		return wrong("export: no day of the season, %s, lies from --from to --to", model.Range{From: h.season.From, To: h.season.To})
	}
	o := wall.Options{Locale: a.say.locale, Large: model.Paper(a.set.get("large")), Upright: a.set.get("orientation") == "portrait"}
	if n.from != "" || n.to != "" { // else each kind of sheet knows which days are its own
		o.Days = days
	}
	for _, name := range words(a.set.get("sheets")) {
		o.Sheets = append(o.Sheets, wall.Sheet(name))
	}
	font := a.set.get("font")
	if font != "" {
		b, err := os.ReadFile(font)
		if err != nil {
			return wrong("%s: font: may not be read: %v", font, errors.Unwrap(err))
		}
		o.Font = b
	}
	w := newView(a.say, h.season, p, h.history)
	w.know(h.record.Events)
	o.Recorded = w.recorded
	var b bytes.Buffer
	done := a.say.working("Drawing the sheets")
	missing, err := wall.Write(&b, drawn(h.season), p, h.history, o)
	done()
	if err != nil && font != "" {
		return wrong("%s: %v", font, err)
	}
	if err != nil {
		return wrong("export: %v", err)
	}
	if err := out.write(sheetsKind, path, b.Bytes(), nil); err != nil {
		return err
	}
	if len(missing) > 0 {
		a.say.aside("%s: %s cannot be set there; ids or numbers stand in place of such names.", path, spaced(missing))
		if font == "" {
			a.say.aside("A TrueType font can be named with --font; scripts that join letters or run from right to left need more than that.")
		}
	}
	return nil
}

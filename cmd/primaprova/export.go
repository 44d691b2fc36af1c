package main

import (
	"bytes"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"primaprova/io/chart"
	"primaprova/model"
)

func exportCommand(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:   "export [SEASON] --ics|--csv|--chart|--page|--wall FILE",
		Short: "the plan as a calendar or a table",
		Long: `Writes the plan that stands beside the season file in another form.

    --ics FILE   an iCalendar file: an entry for each session, block or day
                 (setting calendar); what moves keeps its entry. It may be of
                 one programme, of one part, or of some dates alone; the
                 last is a picture, which can't call back what has
                 moved out of it
    --csv FILE   every session, one a line
    --chart FILE each part's way from arrival to ready and its chance to be, the
                 load by week and day against the caps, the days to spare before
                 each first rehearsal; SVG, PNG or PDF (setting paper) by the
                 name's ending
    --page FILE  the season as one HTML page to keep on a phone: it opens on
                 today, has weeks, programmes and parts, and needs no network
    --wall FILE  a PDF to print: the season on one sheet, a month a page, weeks
                 with boxes to tick, days for the music stand, the parts' ways
                 (setting sheets)

FILE may be - for standard output, but for charts. An export is made again
whole each time; the same plan gives the same bytes. It is written over an
earlier export of the same kind; over any other file only with --replace.`,
		Args: atMost(1),
	}
	ics := c.Flags().String("ics", "", "write a calendar to this `file`")
	table := c.Flags().String("csv", "", "write a table of sessions to this `file`")
	html := c.Flags().String("page", "", "write a page of the season to this `file`, .html")
	picture := c.Flags().String("chart", "", "draw charts into this `file`, .svg, .png or .pdf")
	panels := c.Flags().String("panels", "", "`charts` to draw, of "+panelNames(",")+"; empty: all")
	sheets := c.Flags().String("wall", "", "write sheets to print to this `file`, .pdf")
	addSettings(c, slices.Concat([]string{"formulas"}, calendarSettings, wallSettings, localeSettings)...)
	replace := c.Flags().Bool("replace", false, "write also over a file that is no earlier export")
	var narrow narrowing
	narrow.flags(c)
	c.RunE = func(_ *cobra.Command, args []string) error {
		out := &outlet{a: a, replace: *replace}
		var h *happened
		var p *model.Plan
		var draws chart.Options
		forms := []struct {
			kind  kind
			path  string
			write func(path string) error
		}{
			{anICS, *ics, func(path string) error {
				b, err := a.calendar(h, p, &narrow)
				return out.write(anICS, path, b, err)
			}},
			{aTable, *table, func(path string) error {
				b, err := sheet(newView(a.say, h.season, p, h.history))
				return out.write(aTable, path, b, err)
			}},
			{chartKind(*picture), *picture, func(path string) error { return a.exportChart(path, out, h, p, draws) }},
			{aPage, *html, func(path string) error { return a.exportPage(path, out, h, p) }},
			{sheetsKind, *sheets, func(path string) error { return a.exportWall(path, out, h, p, &narrow) }},
		}
		wanted := forms[:0]
		for _, f := range forms {
			if f.path != "" {
				wanted = append(wanted, f)
			}
		}
		if len(wanted) == 0 {
			return wrong("export: name what to write with --ics FILE, --csv FILE, --chart FILE, --page FILE or --wall FILE").then("export --help")
		}
		var err error
		if draws, err = chartOptions(*picture, *panels, a.say.locale); err != nil {
			return err
		}
		if suffix := strings.ToLower(filepath.Ext(*html)); suffix != "" && suffix != ".html" && suffix != ".htm" {
			return wrong("export: --page %s: a page is written into a file .html", *html).then("export --help")
		}
		if out.f, err = a.standingSeason(a.seasonName(args)); err != nil {
			return err
		}
		for _, f := range wanted {
			if err := out.may(f.kind, f.path); err != nil { // before any of them is written
				return err
			}
		}
		if p, err = a.standing(out.f); err != nil {
			return err
		}
		if h, err = a.happened(out.f, p); err != nil {
			return err
		}
		for _, f := range wanted {
			if err := f.write(f.path); err != nil {
				return err
			}
		}
		return nil
	}
	return c
}

// sheet writes every session as comma-separated values, in the order of days.
func sheet(w *view) ([]byte, error) {
	var b bytes.Buffer
	var sessions []sessionView
	for d := w.Season.From; d <= w.Season.To; d++ {
		sessions = append(sessions, w.sheet(d).Sessions...)
	}
	err := w.sessionTable(sessions, false).CSV(&b, w.say.formulas)
	return b.Bytes(), err
}

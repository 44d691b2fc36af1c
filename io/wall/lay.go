package wall

import (
	"cmp"
	"fmt"

	"primaprova/model"
)

// lay turns a plan into sheets.
func lay(f *fonts, s *model.Season, p *model.Plan, h *model.History, o Options) ([]*sheet, error) {
	d := newDiary(f, s, p, h, o.Locale)
	d.recorded = o.Recorded
	days := model.Range{From: s.From, To: s.To}
	if o.Days != (model.Range{}) {
		days = model.Range{From: max(s.From, o.Days.From), To: min(s.To, o.Days.To)}
	}
	if days.Days() == 0 {
		return nil, fmt.Errorf("%s lies outside the season, %s", o.Days, model.Range{From: s.From, To: s.To})
	}
	kinds := o.Sheets
	if len(kinds) == 0 {
		kinds = []Sheet{Season, Months}
	}
	small := cmp.Or(o.Locale.Paper, model.A4)
	var out []*sheet
	for _, kind := range kinds {
		paper := small
		if kind == Season || kind == Parts {
			paper = cmp.Or(o.Large, small.Larger())
		}
		page, err := o.blank(f, paper)
		if err != nil {
			return nil, err
		}
		switch kind {
		case Season:
			out = append(out, d.seasonSheets(page, days)...)
		case Months:
			out = append(out, d.monthSheets(page, days)...)
		case Weeks:
			out = append(out, d.weekSheets(page, days)...)
		case Parts:
			out = append(out, d.waySheets(page, days)...)
		case Stand:
			o := o
			o.Upright = true // as parts stand beside it
			if page, err = o.blank(f, paper); err != nil {
				return nil, err
			}
			out = append(out, d.daySheets(page, d.stood(days, o))...)
		default:
			return nil, fmt.Errorf("%q is none of the sheets season, months, weeks, days, parts", kind)
		}
	}
	numbered(out)
	return out, nil
}

// blank gives a function that makes empty sheets of a paper.
func (o Options) blank(f *fonts, p model.Paper) (func(title string) *sheet, error) {
	short, long := p.Size()
	if short == 0 {
		return nil, fmt.Errorf("%q is none of the papers a4, a3, a2, letter, tabloid", p)
	}
	w, h := long, short
	if o.Upright {
		w, h = short, long
	}
	return func(title string) *sheet { return &sheet{fonts: f, w: w, h: h, title: title} }, nil
}

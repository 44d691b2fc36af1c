package main

import (
	"bytes"

	"primaprova/io/page"
	"primaprova/model"
)

func (a *app) exportPage(path string, out *outlet, h *happened, p *model.Plan) error {
	var b bytes.Buffer
	w := newView(a.say, h.season, p, h.history)
	w.know(h.record.Events)
	if err := page.Write(&b, h.season, p, h.history, page.Options{Locale: a.say.locale, Today: a.today(h.season), Recorded: w.recorded}); err != nil {
		return err
	}
	return out.write(aPage, path, b.Bytes())
}

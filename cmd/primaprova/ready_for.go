package main

import (
	"cmp"
	"slices"
	"strings"

	"primaprova/model"
)

// sayReadyFor names the parts that are read and worked at, but not by a first
// rehearsal: for the next of their dates, or for a concert that nothing is
// rehearsed for. Those of one date share a line.
func (w *view) sayReadyFor(all []programmeView) {
	parts := map[model.For][]string{}
	for _, p := range all {
		for _, s := range p.Parts {
			t := w.Stand(s.Part)
			if t == nil || t.Later().Date == 0 {
				continue
			}
			title := s.Work
			if n := len(t.Lacks); n > 0 {
				title += " (less " + several(n, "session", "sessions") + ")"
			}
			f := t.Later()
			f.First = false // it makes no difference to a concert
			parts[f] = append(parts[f], title)
		}
	}
	dates := make([]model.For, 0, len(parts))
	for f := range parts {
		dates = append(dates, f)
	}
	slices.SortFunc(dates, func(a, b model.For) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.Kind, b.Kind))
	})
	for _, f := range dates {
		w.say.line("Ready for %s: %s.", w.say.locale.For(f), strings.Join(parts[f], ", "))
	}
}

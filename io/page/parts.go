package page

import (
	"fmt"
	"strings"

	"primaprova/model"
)

// part says of a part when it is there, when it is ready, and each passage's
// days.
func (g *gathering) part(w *model.PartWork) part {
	l := g.o.Locale
	out := part{Short: w.Part.ID, Work: w.Part.Work}
	facts := []string{"arrives " + l.Day(w.Part.Arrives)}
	stages := map[model.Stage]model.Date{model.ListeningStage: w.Listened, model.ReadStage: w.Read, model.RecordingsStage: w.Recorded}
	done := map[model.Stage]bool{model.ListeningStage: w.Listened != 0, model.ReadStage: w.Read != 0, model.RecordingsStage: w.Recorded != 0}
	visited := map[string]map[int]model.Date{}
	for i := range w.Passages {
		ps := &w.Passages[i]
		visited[ps.Name] = map[int]model.Date{}
		for k, on := range ps.Done {
			visited[ps.Name][k+1] = on
		}
	}
	for _, s := range g.OfPart(w.Name) {
		switch {
		case s.Passage == nil:
			if !done[s.Stage] {
				stages[s.Stage] = s.Date
			}
		case s.Visit != nil && visited[*s.Passage] != nil:
			visited[*s.Passage][*s.Visit] = s.Date
		}
	}
	for _, x := range []model.Stage{model.ListeningStage, model.ReadStage, model.RecordingsStage} {
		if on := stages[x]; on != 0 {
			facts = append(facts, string(x)+" "+l.Day(on)+ticked(done[x]))
		}
	}
	facts = append(facts, "ready by "+l.Day(w.Ready), "due for "+l.For(w.Target()))
	out.Facts = strings.Join(facts, "; ") + "."
	for i := range w.Passages {
		ps := &w.Passages[i]
		var days []string
		for k := range ps.Recipe {
			if on := visited[ps.Name][k+1]; on != 0 {
				days = append(days, l.Brief(on)+ticked(k < len(ps.Done)))
			} else {
				days = append(days, "left out")
			}
		}
		out.Passages = append(out.Passages, passage{strings.TrimPrefix(ps.Passage.Where(), "bars "), ps.Passage.Nature(), strings.Join(days, ", ")})
	}
	out.State = g.state(w)
	return out
}

func ticked(done bool) string {
	if done {
		return " ✓"
	}
	return ""
}

// state says how far a part is.
func (g *gathering) state(w *model.PartWork) string {
	var out []string
	if done, all := visits(w); done > 0 {
		out = append(out, fmt.Sprintf("%d of %d visits done", done, all))
	}
	later := g.Stand(w.Name).Later()
	switch n, ready := len(g.LeftOut(w.Name)), g.Stand(w.Name).Ready; {
	case n > 0:
		out = append(out, fmt.Sprintf("%d left out", n))
	case ready != 0:
		out = append(out, "ready "+g.o.Locale.Day(ready))
	case len(out) == 0 && later.Date == 0:
		return "nothing is planned"
	}
	if later.Date != 0 {
		out = append(out, "ready for "+g.o.Locale.For(later))
	}
	return strings.Join(out, ", ")
}

package main

import (
	"fmt"
	"strings"

	"primaprova/model"
	"primaprova/solver"
)

// timeline draws what the plan costs in body and spacing over time, each on a scale of its own, and
// what is proven of them, dashed: an SVG.
func timeline(events []solver.Event) string {
	const width, height, left, top = 720.0, 260.0, 60.0, 30.0
	end := 0.0
	for _, e := range events {
		end = max(end, e.At)
	}
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %v %v" font-family="sans-serif" font-size="12">`+"\n", width+2*left, 2*(height+2*top))
	for n, w := range []model.Wish{model.Body, model.Spacing} {
		y0 := float64(n)*(height+2*top) + top
		most := 0.0
		for _, e := range events {
			if len(e.Score) > int(w) {
				most = max(most, e.Score[w])
			}
			if e.Wish == w.String() {
				most = max(most, e.Bound)
			}
		}
		at := func(e *solver.Event, v float64) string {
			return fmt.Sprintf("%.1f,%.1f", left+width*e.At/max(end, 1e-9), y0+height*(1-v/max(most, 1e-9)))
		}
		var value, bound []string
		for i := range events {
			e := &events[i]
			if len(e.Score) > int(w) {
				value = append(value, at(e, e.Score[w]))
			}
			if e.Wish == w.String() && e.Bound > 0 {
				bound = append(bound, at(e, e.Bound))
			}
		}
		fmt.Fprintf(&b, `<rect x="%v" y="%v" width="%v" height="%v" fill="none" stroke="#888"/>`+"\n", left, y0, width, height)
		fmt.Fprintf(&b, `<text x="%v" y="%v">%s: the plan, and what is proven (dashed); %.0f s along, up to %.0f %s</text>`+"\n", left, y0-8, w, end, most, w.Unit())
		fmt.Fprintf(&b, `<polyline points="%s" fill="none" stroke="#1f5f99" stroke-width="1.5"/>`+"\n", strings.Join(value, " "))
		fmt.Fprintf(&b, `<polyline points="%s" fill="none" stroke="#a33" stroke-width="1.5" stroke-dasharray="5 3"/>`+"\n", strings.Join(bound, " "))
	}
	return b.String() + "</svg>\n"
}

package main

import (
	"slices"

	"primaprova/model"
)

// mostDrawn is how many characters of a title are drawn. No sheet has room for as
// many, and to find that out takes long where a title goes on without end.
const mostDrawn = 200

// drawn gives a season with its titles cut to what is drawn at most.
func drawn(s *model.Season) *model.Season {
	out := *s
	out.Title = cut(s.Title)
	out.Programmes = slices.Clone(s.Programmes)
	for i := range out.Programmes {
		p := &out.Programmes[i]
		p.Title = cut(p.Title)
		p.Parts = slices.Clone(p.Parts)
		for j := range p.Parts {
			p.Parts[j].Work = cut(p.Parts[j].Work)
		}
	}
	return &out
}

func cut(s string) string {
	if r := []rune(s); len(r) > mostDrawn {
		return string(r[:mostDrawn-1]) + "…"
	}
	return s
}

package page

import (
	"fmt"
	"slices"
	"strings"

	"primaprova/model"
)

// rules gives the rules of style that go by the season: the looks of its
// programmes, and the widths of its weeks' bars.
func (v *view) rules() string {
	var b strings.Builder
	for i, l := range v.looks {
		c := model.Tones[l.Tone].RGB
		tone := fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B)
		fmt.Fprintf(&b, ".p%d{background:%s;color:#fff}.h%d{background:%s}.q%d>b::before{content:%q;background:%s}\n", i, tone, i, hatched(l.Pattern, tone), i, l.Letter, tone)
	}
	var widths []int
	for _, w := range v.Weeks {
		widths = append(widths, w.Bar.Services, w.Bar.Other, w.Bar.Planned)
	}
	slices.Sort(widths)
	for _, n := range slices.Compact(widths) {
		fmt.Fprintf(&b, ".w%d{width:%d%%}", n, n)
	}
	for i, do := range v.dos {
		fmt.Fprintf(&b, "\n.%s::after{content:%q}", class(i), do)
	}
	return b.String() + "\n"
}

// oftenSaid is how many rows have to say the same to say it by their class.
const oftenSaid = 4

// share has what many rows say to do said once, by the style: in a long season that
// is a third of the page. Browsers show and read it aloud like other text.
func (v *view) share() {
	count := map[string]int{}
	v.eachRow(func(r *row) { count[r.Do]++ })
	v.eachRow(func(r *row) {
		if r.Do == "" || count[r.Do] < oftenSaid || strings.ContainsAny(r.Do, "\"\\<") {
			return
		}
		i := slices.Index(v.dos, r.Do)
		if i < 0 {
			i, v.dos = len(v.dos), append(v.dos, r.Do)
		}
		r.Class, r.Do = strings.TrimSpace(class(i)+" "+r.Class), ""
	})
}

// class names the i-th of the texts that are said by the style, in few letters: a, b,
// …, z, a1. q is kept for programmes, r for rests.
func class(i int) string {
	const letters = "abcdefghijklmnopstuvxyz"
	name := letters[i%len(letters):][:1]
	if i >= len(letters) {
		name += fmt.Sprint(i / len(letters))
	}
	return name
}

func (v *view) eachRow(do func(*row)) {
	for i := range v.Weeks {
		for j := range v.Weeks[i].Days {
			for k := range v.Weeks[i].Days[j].Rows {
				do(&v.Weeks[i].Days[j].Rows[k])
			}
		}
	}
}

// hatched gives a pattern as backgrounds.
func hatched(p model.Pattern, tone string) string {
	mark, ground := tone, "#fff"
	if p.Reversed {
		mark, ground = ground, mark
	}
	lines := func(degrees string) string {
		return "repeating-linear-gradient(" + degrees + "," + mark + " 0 1.5px,transparent 1.5px 5px)"
	}
	switch p.Hatch {
	case model.Rising:
		return lines("-45deg") + ground
	case model.Falling:
		return lines("45deg") + ground
	case model.Across:
		return lines("0deg") + ground
	case model.Upright:
		return lines("90deg") + ground
	case model.Crossed:
		return lines("-45deg") + "," + lines("45deg") + ground
	case model.Netted:
		return lines("0deg") + "," + lines("90deg") + ground
	}
	return "radial-gradient(" + mark + " 1px,transparent 1.5px) 0 0/4px 4px " + ground
}

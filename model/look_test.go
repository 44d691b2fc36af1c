package model

import (
	"math"
	"testing"
)

// linear gives a colour's light, 0..1 (IEC 61966-2-1).
func linear(c RGB) (out [3]float64) {
	for k, v := range [3]uint8{c.R, c.G, c.B} {
		if c := float64(v) / 255; c <= 0.04045 {
			out[k] = c / 12.92
		} else {
			out[k] = math.Pow((c+0.055)/1.055, 2.4)
		}
	}
	return out
}

// cones simulates eyes that lack one kind of cones. Source: Machado, Oliveira,
// Fernandes, IEEE Trans. Visualization and Computer Graphics 15, 1291-1298
// (2009), severity 1.0; for linear RGB.
var cones = map[string][3][3]float64{
	"all cones":    {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
	"protanopia":   {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
	"deuteranopia": {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
	"tritanopia":   {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}},
}

func seen(l [3]float64, m [3][3]float64) (out [3]float64) {
	for i := range 3 {
		for j := range 3 {
			out[i] += m[i][j] * l[j]
		}
		out[i] = min(1, max(0, out[i]))
	}
	return out
}

// lab is CIELAB of linear sRGB, white D65.
func lab(l [3]float64) [3]float64 {
	f := func(v float64) float64 {
		if v > 216.0/24389 {
			return math.Cbrt(v)
		}
		return (24389.0/27*v + 16) / 116
	}
	x := f((0.4124564*l[0] + 0.3575761*l[1] + 0.1804375*l[2]) / 0.95047)
	y := f(0.2126729*l[0] + 0.7151522*l[1] + 0.0721750*l[2])
	z := f((0.0193339*l[0] + 0.1191920*l[1] + 0.9503041*l[2]) / 1.08883)
	return [3]float64{116*y - 16, 500 * (x - y), 200 * (y - z)}
}

// apart is the difference of two colours by CIEDE2000. Formula and test data:
// Sharma, Wu, Dalal, Color Research and Application 30, 21-30 (2005).
func apart(p, q [3]float64) float64 {
	rad := math.Pi / 180
	c := (math.Hypot(p[1], p[2]) + math.Hypot(q[1], q[2])) / 2
	g := 0.5 * (1 - math.Sqrt(math.Pow(c, 7)/(math.Pow(c, 7)+math.Pow(25, 7))))
	polar := func(v [3]float64) (chroma, hue float64) {
		a := v[1] * (1 + g)
		if chroma = math.Hypot(a, v[2]); chroma == 0 {
			return 0, 0
		}
		return chroma, math.Mod(math.Atan2(v[2], a)/rad+360, 360)
	}
	c1, h1 := polar(p)
	c2, h2 := polar(q)
	dh, h := h2-h1, (h1+h2)/2
	switch {
	case c1*c2 == 0:
		dh, h = 0, h1+h2
	case dh > 180:
		dh, h = dh-360, math.Mod(h+180, 360)
	case dh < -180:
		dh, h = dh+360, math.Mod(h+180, 360)
	}
	dl, dc := q[0]-p[0], c2-c1
	dH := 2 * math.Sqrt(c1*c2) * math.Sin(dh/2*rad)
	l, cm := (p[0]+q[0])/2, (c1+c2)/2
	t := 1 - 0.17*math.Cos((h-30)*rad) + 0.24*math.Cos(2*h*rad) + 0.32*math.Cos((3*h+6)*rad) - 0.20*math.Cos((4*h-63)*rad)
	sl := 1 + 0.015*(l-50)*(l-50)/math.Sqrt(20+(l-50)*(l-50))
	sc, sh := 1+0.045*cm, 1+0.015*cm*t
	rc := 2 * math.Sqrt(math.Pow(cm, 7)/(math.Pow(cm, 7)+math.Pow(25, 7)))
	rt := -math.Sin(60*rad*math.Exp(-(h-275)/25*(h-275)/25)) * rc
	return math.Sqrt(dl/sl*dl/sl + dc/sc*dc/sc + dH/sh*dH/sh + rt*dc/sc*dH/sh)
}

// Pairs 1, 7, 17 and 20 of the published table, from memory.
func TestDifferenceFormula(t *testing.T) {
	for _, c := range []struct {
		p, q [3]float64
		want float64
	}{
		{[3]float64{50, 2.6772, -79.7751}, [3]float64{50, 0, -82.7485}, 2.0425},
		{[3]float64{50, 0, 0}, [3]float64{50, -1, 2}, 2.3669},
		{[3]float64{50, 2.5, 0}, [3]float64{73, 25, -18}, 27.1492},
		{[3]float64{50, 2.5, 0}, [3]float64{58, 24, 15}, 19.4535},
	} {
		if got := apart(c.p, c.q); math.Abs(got-c.want) > 0.0001 {
			t.Errorf("%v, %v: %.4f, want %.4f", c.p, c.q, got, c.want)
		}
	}
}

// leastApart is the difference of two colours for the eyes that tell them apart
// least.
func leastApart(a, b RGB) float64 {
	least := math.Inf(1)
	for _, m := range cones {
		least = min(least, apart(lab(seen(linear(a), m)), lab(seen(linear(b), m))))
	}
	return least
}

// css holds the colours' values: CSS Color Module Level 4, section 6.1, from
// memory.
var css = map[string]RGB{"royalblue": {65, 105, 225}, "olive": {128, 128, 0}, "maroon": {128, 0, 0}, "darkslategray": {47, 79, 79},
	"mediumvioletred": {199, 21, 133}, "indigo": {75, 0, 130}}

// Tones differ by 12 units at least for every eye, and so do the calendar's
// colours. Where the limit is drawn is common practice, no source: 2 to 3 can be
// seen side by side, 10 at a glance.
func TestTonesApart(t *testing.T) {
	tones, named := math.Inf(1), math.Inf(1)
	for i, a := range Tones {
		if d := apart(lab(linear(a.RGB)), lab(linear(css[a.CSS]))); d > 20 {
			t.Errorf("%s is %.0f from its tone", a.CSS, d)
		}
		for j, b := range Tones {
			d := leastApart(a.RGB, b.RGB)
			if tonesApart[i][j] != int(d) {
				t.Errorf("tones %d and %d differ by %.1f, not %d", i, j, d, tonesApart[i][j])
			}
			if i != j {
				tones, named = min(tones, d), min(named, leastApart(css[a.CSS], css[b.CSS]))
			}
		}
	}
	if t.Logf("tones differ by %.1f at least, the calendar's colours by %.1f", tones, named); tones < 12 || named < 12 {
		t.Errorf("tones differ by %.1f, the calendar's colours by %.1f", tones, named)
	}
}

// No two of eleven programmes that follow each other have one pattern, none have
// one letter, and of those that share a week no two have one tone as long as there
// are tones.
func TestLooks(t *testing.T) {
	for _, every := range []Date{7, 14, 30, 60} {
		s := &Season{}
		for i := range 40 {
			first := NewDate(2027, 1, 31) + Date(i)*every
			s.Programmes = append(s.Programmes, Programme{Parts: []Part{{Arrives: first - 29}}, Services: []Service{{Date: first}, {Date: first + 6}}})
		}
		looks, letters := s.Looks(), map[string]bool{}
		for i, l := range looks {
			if letters[l.Letter] {
				t.Errorf("letter %s twice", l.Letter)
			}
			letters[l.Letter] = true
			beside, again := 0, false
			for j := range i {
				if i-j < len(Patterns) && looks[j].Pattern == l.Pattern {
					t.Errorf("programmes %d and %d have one pattern", j, i)
				}
				if s.Programmes[j].Weeks().To >= s.Programmes[i].Weeks().From {
					beside++
					again = again || looks[j].Tone == l.Tone
				}
			}
			if again && beside < len(Tones) {
				t.Errorf("programme %d has the tone of one of %d beside it", i, beside)
			}
		}
		if looks[0].Letter != "A" || looks[26].Letter != "A2" {
			t.Errorf("letters %s, %s", looks[0].Letter, looks[26].Letter)
		}
	}
}

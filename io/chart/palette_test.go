package chart

import (
	"image/color"
	"math"
	"testing"
)

// linear gives the channels of a colour as light, 0..1 (IEC 61966-2-1).
func linear(c color.NRGBA) [3]float64 {
	var out [3]float64
	for i, v := range []uint8{c.R, c.G, c.B} {
		x := float64(v) / 255
		if x <= 0.04045 {
			out[i] = x / 12.92
		} else {
			out[i] = math.Pow((x+0.055)/1.055, 2.4)
		}
	}
	return out
}

// contrast is that of WCAG 2.2, 1 to 21.
func contrast(a, b [3]float64) float64 {
	la, lb := luminance(a), luminance(b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

func luminance(c [3]float64) float64 { return 0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2] }

func TestTextContrast(t *testing.T) {
	for _, text := range textColours {
		for _, ground := range []color.NRGBA{paper, band} {
			if c := contrast(linear(text), linear(ground)); c < 4.5 {
				t.Errorf("%v on %v: %.2f", text, ground, c)
			}
		}
	}
	if c := contrast(linear(color.NRGBA{0, 0, 0, 255}), linear(paper)); math.Abs(c-21) > 1e-9 { // WCAG: black on white
		t.Errorf("black on white: %f", c)
	}
}

// Machado, Oliveira, Fernandes, IEEE TVCG 15, 1291-1298 (2009), severity 1.0;
// the figures are from memory.
var blindness = map[string][3][3]float64{
	"none":         {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
	"protanopia":   {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
	"deuteranopia": {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
	"tritanopia":   {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}},
	"black, white": {{0.2126, 0.7152, 0.0722}, {0.2126, 0.7152, 0.0722}, {0.2126, 0.7152, 0.0722}},
}

func seen(m [3][3]float64, c [3]float64) [3]float64 {
	var out [3]float64
	for i := range out {
		for j := range c {
			out[i] += m[i][j] * c[j]
		}
		out[i] = min(1, max(0, out[i]))
	}
	return out
}

// The fills that stand side by side stay apart by lightness alone, however
// colours are seen: WCAG 2.2 wants 3:1 of graphics beside each other.
func TestFillsStayApart(t *testing.T) {
	for name, m := range blindness {
		for i := range 3 {
			if sum := m[i][0] + m[i][1] + m[i][2]; math.Abs(sum-1) > 1e-5 { // grey stays grey
				t.Fatalf("%s: row %d sums to %f", name, i, sum)
			}
		}
		if c := contrast(seen(m, linear(services)), seen(m, linear(planned))); c < 3 {
			t.Errorf("%s: services beside planned: %.2f", name, c)
		}
		for what, c := range map[string]float64{
			"services on paper": contrast(seen(m, linear(services)), seen(m, linear(paper))),
			"caps on planned":   contrast(seen(m, linear(ink)), seen(m, linear(planned))),
			"planned on paper":  contrast(seen(m, linear(planned)), seen(m, linear(paper))),
		} {
			if c < 3 {
				t.Errorf("%s: %s: %.2f", name, what, c)
			}
		}
	}
}

package wall

import (
	"math"
	"testing"

	"primaprova/model"
)

// linear gives a colour's light, 0..1 (IEC 61966-2-1).
func linear(i ink) (out [3]float64) {
	for k, v := range i {
		if c := float64(v) / 255; c <= 0.04045 {
			out[k] = c / 12.92
		} else {
			out[k] = math.Pow((c+0.055)/1.055, 2.4)
		}
	}
	return out
}

func luminance(l [3]float64) float64 { return 0.2126*l[0] + 0.7152*l[1] + 0.0722*l[2] }

// contrast is that of WCAG 2.2.
func contrast(a, b ink) float64 {
	x, y := luminance(linear(a)), luminance(linear(b))
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

func TestContrastFormula(t *testing.T) {
	if c := contrast(ink{0, 0, 0}, ink{255, 255, 255}); math.Abs(c-21) > 1e-9 { // WCAG 2.2: black on white
		t.Errorf("black on white: %.3f", c)
	}
	if c := contrast(ink{0x76, 0x76, 0x76}, paper); math.Abs(c-4.54) > 0.005 { // the lightest grey that passes, from memory
		t.Errorf("#767676 on white: %.3f", c)
	}
}

// Every pair of colours that a text may have, 4.5:1 (WCAG 2.2, 1.4.3), and how far
// the grounds of days are from each other.
func TestContrast(t *testing.T) {
	inks := []ink{black}
	for i := range model.Tones {
		inks = append(inks, lookOf(model.Look{Tone: model.Tone(i)}).tone)
	}
	for _, ground := range grounds {
		for _, text := range append([]ink{quiet}, inks...) {
			if c := contrast(text, ground); c < 4.5 {
				t.Errorf("%v on %v: %.2f", text, ground, c)
			}
		}
	}
	for _, tone := range inks {
		if c := contrast(paper, tone); c < 4.5 {
			t.Errorf("white on %v: %.2f", tone, c)
		}
	}
	above := paper
	for _, ground := range heat {
		if c := contrast(black, ground); c < 4.5 {
			t.Errorf("black on %v: %.2f", ground, c)
		}
		if c := contrast(above, ground); c < 1.15 { // common practice, no source: a step that is seen side by side
			t.Errorf("%v and %v: %.2f", above, ground, c)
		}
		above = ground
	}
}

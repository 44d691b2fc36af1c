package page

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

var (
	named    = regexp.MustCompile(`--([a-z-]+):\s*#([0-9a-f]{6});`)
	texts    = []string{"ink", "quiet", "link"}
	grounds  = []string{"ground", "raised"}
	fills    = []string{"services", "planned"}
	setsText = regexp.MustCompile(`(?:^|[\s;{])color:\s*([^;]+);`)
	setsBack = regexp.MustCompile(`background(?:-color)?:\s*([^;]+);`)
)

// schemes gives the colours of the light and the dark scheme, from the style.
func schemes(t *testing.T) (light, dark map[string][3]float64) {
	t.Helper()
	before, after, ok := strings.Cut(css, "@media (prefers-color-scheme: dark)")
	if !ok {
		t.Fatal("there is no dark scheme")
	}
	after, _, _ = strings.Cut(after, "\n}\n")
	read := func(text string) map[string][3]float64 {
		out := map[string][3]float64{}
		for _, m := range named.FindAllStringSubmatch(text, -1) {
			n, err := strconv.ParseUint(m[2], 16, 32)
			if err != nil {
				t.Fatal(err)
			}
			out[m[1]] = [3]float64{float64(n >> 16), float64(n >> 8 & 255), float64(n & 255)}
		}
		return out
	}
	return read(before), read(after)
}

// luminance and contrast are those of WCAG 2.2.
func luminance(c [3]float64) float64 {
	var l float64
	for i, share := range []float64{0.2126, 0.7152, 0.0722} {
		v := c[i] / 255
		if v <= 0.04045 {
			v /= 12.92
		} else {
			v = math.Pow((v+0.055)/1.055, 2.4)
		}
		l += share * v
	}
	return l
}

func contrast(a, b [3]float64) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

func TestContrast(t *testing.T) {
	light, dark := schemes(t)
	for name, scheme := range map[string]map[string][3]float64{"light": light, "dark": dark} {
		for _, colour := range slices.Concat(texts, grounds, fills, []string{"edge", "frame"}) {
			if _, ok := scheme[colour]; !ok {
				t.Fatalf("%s: there is no %s", name, colour)
			}
		}
		for _, text := range texts {
			for _, ground := range grounds {
				if c := contrast(scheme[text], scheme[ground]); c < 4.5 {
					t.Errorf("%s: %s on %s: %.2f", name, text, ground, c)
				}
			}
		}
		// Graphics stand 3:1 apart from what is beside them (WCAG 2.2, 1.4.11), and
		// so without colour too.
		for _, pair := range [][2]string{{"services", "planned"}, {"services", "ground"}, {"planned", "ground"}, {"frame", "ground"}, {"frame", "raised"}} {
			if c := contrast(scheme[pair[0]], scheme[pair[1]]); c < 3 {
				t.Errorf("%s: %s beside %s: %.2f", name, pair[0], pair[1], c)
			}
		}
	}
	if c := contrast([3]float64{}, [3]float64{255, 255, 255}); math.Abs(c-21) > 1e-9 { // black on white, by definition
		t.Errorf("black on white: %f", c)
	}
}

// No rule sets text or ground in a colour that the pairs above leave out.
func TestEveryColourIsNamed(t *testing.T) {
	_, rules, _ := strings.Cut(css, "* { box-sizing")
	check := func(found [][]string, among []string) {
		if len(found) == 0 {
			t.Error("no rule sets it")
		}
		for _, m := range found {
			name := strings.TrimSuffix(strings.TrimPrefix(m[1], "var(--"), ")")
			if !slices.Contains(among, name) {
				t.Errorf("%s is none of %v", m[1], among)
			}
		}
	}
	check(setsText.FindAllStringSubmatch(rules, -1), append([]string{"chip"}, texts...)) // chips stand on tones
	check(setsBack.FindAllStringSubmatch(rules, -1), slices.Concat(grounds, fills))
}

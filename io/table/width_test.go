package table

import (
	"bytes"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestWidth(t *testing.T) {
	for s, want := range map[string]int{
		"": 0, "Slate": 5, "Bølgeslag": 9, "Příliš žluťoučký kůň": 20, "Συμφωνία": 8, "交響曲": 6, "ﾊﾝｶｸ": 4,
		"e\u0301tude": 5, "A\u030Akerfolk": 8, "×2": 2, "█": 1, "\ue000": 1,
	} {
		if got := Width(s); got != want {
			t.Errorf("%q is %d wide, not %d", s, got, want)
		}
	}
}

func TestWrap(t *testing.T) {
	for _, c := range []struct {
		s     string
		width int
		want  string
	}{
		{"", 5, ""},
		{"short words stay", 11, "short words|stay"},
		{"av Bølgeslagsfjord her", 6, "av|Bølges|lagsfj|ord|her"},
		{"石板の海岸", 5, "石板|の海|岸"},                    // never more than five columns
		{"e\u0301te\u0301", 2, "e\u0301t|e\u0301"}, // an accent stays on its letter
		{"石板", 1, "石|板"},                           // one letter cannot be cut
	} {
		if got := strings.Join(Wrap(c.s, c.width), "|"); got != c.want {
			t.Errorf("%q in %d: %q, want %q", c.s, c.width, got, c.want)
		}
	}
}

// Whatever the script and however long the words, no line is wider than asked,
// and no letter is lost.
func TestNamesOfAllScriptsFit(t *testing.T) {
	word := rapid.OneOf(
		rapid.StringMatching(`[a-zåøæ]{1,60}`), rapid.StringMatching(`[a-zěščřžýáíůú]{1,60}`), rapid.StringMatching(`[α-ωάέή]{1,60}`),
		rapid.StringMatching(`[一-十ぁ-ん]{1,40}`), rapid.StringMatching(`(?:[a-z]\x{0301}){1,40}`))
	rapid.Check(t, func(t *rapid.T) {
		tab := &Table{Columns: []Column{{Name: "a", Wraps: true}, {Name: "n", Right: true}, {Name: "b", Wraps: true}}}
		var all strings.Builder
		for range rapid.IntRange(1, 5).Draw(t, "rows") {
			a, b := rapid.SliceOfN(word, 0, 5).Draw(t, "a"), rapid.SliceOfN(word, 0, 5).Draw(t, "b")
			all.WriteString(strings.Join(a, "") + strings.Join(b, ""))
			tab.Row(strings.Join(a, " "), "12", strings.Join(b, " "))
		}
		width := rapid.IntRange(2*leastWrap+2+2*gap, 120).Draw(t, "width")
		var out bytes.Buffer
		if err := tab.Write(&out, width); err != nil {
			t.Fatal(err)
		}
		for i, line := range strings.Split(out.String(), "\n") {
			if n := Width(line); n > width {
				t.Errorf("line %d is %d wide, not %d: %q", i, n, width, line)
			}
		}
		// Cells stand side by side, so letters come out in another order.
		count := map[rune]int{}
		for _, r := range all.String() + "anb" + strings.Repeat("12", len(tab.Rows)) {
			count[r]++
		}
		for _, r := range out.String() {
			if r != ' ' && r != '\n' {
				count[r]--
			}
		}
		for r, n := range count {
			if n != 0 {
				t.Errorf("%q: %d more or less:\n%s", r, n, out.String())
			}
		}
	})
}

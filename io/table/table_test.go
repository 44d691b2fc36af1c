package table

import (
	"bytes"
	"strings"
	"testing"

	"github.com/olekukonko/tablewriter/pkg/twwidth"
	"pgregory.net/rapid"
)

func sample() *Table {
	t := &Table{Columns: []Column{{Name: "part", Wraps: true}, {Name: "min", Right: true}, {Name: "what", Wraps: true}}}
	t.Row("Symphony in Slate", "80", "listening: mark tempos and exposed places in the part")
	t.Row("Ferry Waltz", "5", "bars 3-9")
	return t
}

func TestWideEnoughNeedsNoWrap(t *testing.T) {
	var b bytes.Buffer
	if err := sample().Write(&b, 100); err != nil {
		t.Fatal(err)
	}
	want := "" +
		"part               min  what\n" +
		"Symphony in Slate   80  listening: mark tempos and exposed places in the part\n" +
		"Ferry Waltz          5  bars 3-9\n"
	if b.String() != want {
		t.Errorf("got\n%s\nwant\n%s", b.String(), want)
	}
}

func TestNarrowWraps(t *testing.T) {
	var b bytes.Buffer
	if err := sample().Write(&b, 50); err != nil {
		t.Fatal(err)
	}
	want := "" +
		"part               min  what\n" +
		"Symphony in Slate   80  listening: mark tempos and\n" +
		"                        exposed places in the part\n" +
		"Ferry Waltz          5  bars 3-9\n"
	if b.String() != want {
		t.Errorf("got\n%s\nwant\n%s", b.String(), want)
	}
}

func TestPlain(t *testing.T) {
	tab := sample()
	tab.Row("a\tb", "1", "c\nd")
	tab.Row("short")
	var b bytes.Buffer
	if err := tab.Write(&b, 0); err != nil {
		t.Fatal(err)
	}
	want := "part\tmin\twhat\n" +
		"Symphony in Slate\t80\tlistening: mark tempos and exposed places in the part\n" +
		"Ferry Waltz\t5\tbars 3-9\n" +
		"a b\t1\tc d\n" +
		"short\t\t\n"
	if b.String() != want {
		t.Errorf("got\n%q\nwant\n%q", b.String(), want)
	}
}

func TestColumnsGoWhereThereIsNoRoom(t *testing.T) {
	tab := sample()
	tab.Columns[1].From = 60
	for width, want := range map[int]string{0: "part\tmin\twhat\n", 60: "part               min  what\n", 59: "part               what\n"} {
		var b bytes.Buffer
		if err := tab.Write(&b, width); err != nil {
			t.Fatal(err)
		}
		if !strings.HasPrefix(b.String(), want) {
			t.Errorf("in %d columns:\n%s", width, b.String())
		}
	}
}

// Whatever the words, no line is wider than asked as long as every word and
// every fixed column leaves room for it, and no word is lost.
func TestFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.StringMatching(`[a-zåø]{1,10}`)
		words := rapid.SliceOfN(word, 0, 12)
		tab := &Table{Columns: []Column{{Name: "a", Wraps: true}, {Name: "n", Right: true}, {Name: "b", Wraps: true}}}
		all := 0
		for range rapid.IntRange(1, 8).Draw(t, "rows") {
			a, b := words.Draw(t, "a"), words.Draw(t, "b")
			all += len(a) + len(b)
			tab.Row(strings.Join(a, " "), "12", strings.Join(b, " "))
		}
		width := rapid.IntRange(2*leastWrap+2+2*gap, 120).Draw(t, "width")
		var out bytes.Buffer
		if err := tab.Write(&out, width); err != nil {
			t.Fatal(err)
		}
		got := 0
		for i, line := range strings.Split(out.String(), "\n") {
			if n := twwidth.Width(line); n > width {
				t.Errorf("line %d is %d wide, not %d: %q", i, n, width, line)
			}
			got += len(strings.Fields(line))
		}
		if want := all + len(tab.Rows) + 3; got != want {
			t.Errorf("%d words came out, not %d:\n%s", got, want, out.String())
		}
	})
}

func TestBar(t *testing.T) {
	for _, c := range []struct {
		value, full, cells int
		want               string
	}{
		{0, 100, 10, ""}, {1, 100, 10, "█"}, {50, 100, 10, "█████"}, {100, 100, 4, "████"},
		{101, 100, 4, "████!"}, {99, 100, 4, "████"}, {5, 0, 10, ""},
	} {
		if got := Bar(c.value, c.full, c.cells); got != c.want {
			t.Errorf("Bar(%d, %d, %d) = %q, want %q", c.value, c.full, c.cells, got, c.want)
		}
	}
}

package pdf

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"codeberg.org/go-fonts/liberation/liberationsansregular"
)

// drawn writes a page that is not packed, so that its operators can be read.
func drawn(t *testing.T, draw func(d *Document)) string {
	t.Helper()
	d := New()
	d.lib.SetCompression(false)
	d.Page(100, 100, "")
	draw(d)
	var b bytes.Buffer
	if err := d.Write(&b, "A page", time.Unix(0, 0).UTC()); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// An area's outline meets itself: else its first corner is cut off (ISO 32000-1, 8.5.2, h).
func TestAreasAreClosed(t *testing.T) {
	corners := []Point{{10, 10}, {20, 20}, {10, 30}}
	area := drawn(t, func(d *Document) { d.Path(Both, true, corners) })
	line := drawn(t, func(d *Document) { d.Path(Outline, false, corners) })
	if !strings.Contains(area, "h\nB\n") {
		t.Errorf("the area is not closed:\n%s", area)
	}
	if strings.Contains(line, "h\n") || !strings.Contains(line, "S\n") {
		t.Errorf("the line is closed, or not drawn:\n%s", line)
	}
}

// What is set already is not set again.
func TestStateIsSetOnce(t *testing.T) {
	red := Ink{255, 0, 0}
	text := drawn(t, func(d *Document) {
		for range 3 {
			d.Pen(red, 2, 1, 1)
			d.Ground(red)
			d.Rect(1, 1, 5, 5, 0, Both)
		}
		d.Pen(red, 2)
	})
	for operator, want := range map[string]int{"1.000 0.000 0.000 RG": 1, "1.000 0.000 0.000 rg": 1, " re B": 3, "[1.00 1.00] 0.00 d": 1, "[] 0.00 d": 1} {
		if got := strings.Count(text, operator); got != want {
			t.Errorf("%q stands there %d times, want %d", operator, got, want)
		}
	}
}

func TestFontsAreLookedAt(t *testing.T) {
	if _, err := New().Add("text", false, liberationsansregular.TTF); err != nil {
		t.Error(err)
	}
	if _, err := New().Add("text", false, liberationsansregular.TTF[:2000]); err == nil || !strings.HasPrefix(err.Error(), "font: ") {
		t.Errorf("half a font: %v", err)
	}
}

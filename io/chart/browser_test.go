//go:build browser

package chart

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"primaprova/io/page/browser"
	"primaprova/model"
)

// A browser takes the faces that an SVG carries: it loads both, and its texts are
// as wide as they were measured. See make browser.
func TestInABrowser(t *testing.T) {
	tab, _ := browser.New(t, browser.Start(t), browser.Window{Width: 1280, Height: 800, Scheme: "light"})
	s := season(12, 3)
	s.Title = "Čtyři moře, Συμφωνία, Skjærgård"
	p := filled(s, func() bool { return false })
	path := filepath.Join(t.TempDir(), "season.svg")
	if err := os.WriteFile(path, drawn(t, s, p, Options{Format: SVG, Locale: model.DefaultLocale()}), 0o644); err != nil {
		t.Fatal(err)
	}
	tab.Go("file://" + path)
	type seen struct {
		Faces []string
		Texts []string
		Wide  []float64
	}
	got := browser.Eval[seen](tab, `document.fonts.ready.then(() => {
	  const texts = [...document.querySelectorAll("text")];
	  return {Faces: [...document.fonts].map(f => f.status), Texts: texts.map(t => t.textContent), Wide: texts.map(t => t.getComputedTextLength())};
	})`)
	if len(got.Faces) != 2 || got.Faces[0] != "loaded" || got.Faces[1] != "loaded" {
		t.Errorf("the faces are %q", got.Faces)
	}
	sheet, err := sheetOf(gather(s, p, nil, Options{Locale: model.DefaultLocale()}, viewed(t)), viewed(t))
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Texts) != len(sheet.texts) {
		t.Fatalf("%d texts are shown, not %d", len(got.Texts), len(sheet.texts))
	}
	for i, x := range sheet.texts {
		if want := (x.right - x.left).Points(); got.Texts[i] != x.text || math.Abs(got.Wide[i]-want) > 1+want/100 {
			t.Errorf("%q is %.1f wide; it should be %q, %.1f", got.Texts[i], got.Wide[i], x.text, want)
		}
	}
}

package seasonfile

import (
	"bytes"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"primaprova/model"
)

func TestNewIsReadBack(t *testing.T) {
	from := model.NewDate(2027, 1, 13)
	for _, o := range []Start{
		{From: from},
		{From: from, To: from + least - 1},
		{From: from, Title: "Winter: # 1", TimeZone: "America/Santiago", Instrument: "yes"},
	} {
		var b bytes.Buffer
		if err := New(&b, o); err != nil {
			t.Fatal(err)
		}
		f, err := Parse("new.yaml", b.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		if len(f.Warnings) > 0 {
			t.Error(Text(f.Warnings))
		}
		if o.Title != "" && (f.Season.Title != o.Title || f.Season.Instrument != o.Instrument) {
			t.Errorf("title %q, instrument %q", f.Season.Title, f.Season.Instrument)
		}
	}
	if err := New(&bytes.Buffer{}, Start{From: from, To: from + 3}); err == nil {
		t.Error("a season of four days was written")
	}
	if err := New(&bytes.Buffer{}, Start{From: from, TimeZone: "Skerry/Coast"}); err == nil {
		t.Error("a season with a fault was written")
	}
}

// TestNewShowsTheDefaults takes the comment signs off the keys and reads the
// file again: every default shown must be known and must be the default.
func TestNewShowsTheDefaults(t *testing.T) {
	var b bytes.Buffer
	if err := New(&b, Start{From: model.NewDate(2027, 1, 11)}); err != nil {
		t.Fatal(err)
	}
	source, err := os.ReadFile("season.go")
	if err != nil {
		t.Fatal(err)
	}
	examples := []string{"playing", "rest_days", "played", "days_off", "tours", "quiet", "latest", "listening_hours"} // shown with what is no default
	shown := strings.Replace(b.String(), "\n# habits:", "\nhabits:", 1)
	seen := 0
	// The keys of limits and habits stand at "# key: value" or "  # key: value"; prose has no such form.
	for _, table := range regexp.MustCompile(`(?s)\nfunc \(r \*reader\) (?:limits|habits)\(.*?\n}`).FindAllString(string(source), -1) {
		for _, m := range regexp.MustCompile(`(?m)^\t\t(?:opt|with)\("([a-z_]+)"`).FindAllStringSubmatch(table, -1) {
			key := m[1]
			if slices.Contains(examples, key) {
				continue
			}
			if seen++; !regexp.MustCompile(`(?m)^ *#? +` + key + `:`).MatchString(shown) {
				t.Errorf("%s: the file does not show it", key)
			}
			shown = regexp.MustCompile(`(?m)^(\s*)# ((?:  )?`+key+`:)`).ReplaceAllString(shown, "$1$2")
		}
	}
	if seen < 32 {
		t.Fatalf("only %d keys were looked for", seen)
	}
	f, err := Parse("new.yaml", []byte(shown))
	if err != nil {
		t.Fatal(err)
	}
	limits := model.DefaultLimits()
	limits.RestDays = f.Season.Limits.RestDays
	if got, want := f.Season.Limits, limits; !same(got, want) {
		t.Errorf("limits shown are %+v, the defaults %+v", got, want)
	}
	if got, want := f.Season.Habits, model.DefaultHabits(); !same(got, want) {
		t.Errorf("habits shown are %+v, the defaults %+v", got, want)
	}
}

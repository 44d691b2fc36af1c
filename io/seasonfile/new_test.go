package seasonfile

import (
	"bytes"
	"regexp"
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
	// The keys stand at "# key: value" or "  # key: value"; prose has no such form.
	key := regexp.MustCompile(`(?m)^(\s*)# ((?:  )?(?:warm_up|listening|passages|block|block_rest|heavy|rise|rise_floor|light|before_concert|new_on_concerts|two_services|return|service_gap|service_travel|habits|visits|first|shares|least_gaps|preferred_gaps|short_gaps|upkeep|upkeep_after|ready_days|fresh_days|last_days|read_through|recordings|service_playing|tempo_steps|part_changes|step|exposed_weight|visit_values|whole_parts|listen_value|read_value|record_value):)`)
	shown := key.ReplaceAllString(b.String(), "$1$2")
	if n := strings.Count(shown, "#") - strings.Count(b.String(), "#"); n > -32 {
		t.Fatalf("only %d keys were found in comments", -n)
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

package main

import (
	"io"
	"strings"
	"testing"
)

// A hint carries the season and the settings that were given, as the shell takes them,
// as far as the command that it names knows them.
func TestHintsCarryWhatWasGiven(t *testing.T) {
	const season, server = "my season.yaml", "https://calendar.example/anna b/"
	for _, c := range []struct{ line, hint, want string }{
		{"publish --server|" + server + "|--credentials|keys", "publish 'my season.yaml' --replace",
			"publish 'my season.yaml' --replace --server 'https://calendar.example/anna b/' --credentials keys"},
		{"plan --today|2027-03-01|--budget|50|--width|90", "why 'my season.yaml'", "why 'my season.yaml' --today 2027-03-01 --budget 50"},
		{"plan --budget|50", "plan --budget 300 'my season.yaml'", "plan --budget 300 'my season.yaml'"},
		{"plan --budget|50", "show 'my season.yaml'", "show 'my season.yaml'"},
		{"show --settings|mine.yaml", "show part", "show part 'my season.yaml' --settings mine.yaml"},
		{"why --today|2027-03-01", "why --help", "why --help"},
	} {
		root := rootCommand(&app{say: newVoice(io.Discard, io.Discard)})
		name, flags, _ := strings.Cut(c.line, " ")
		cmd, _, err := root.Find([]string{name})
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.ParseFlags(strings.Split(flags, "|")); err != nil {
			t.Fatal(err)
		}
		words, got := strings.Fields(c.want), strings.Fields(given(cmd, []string{season})(c.hint))
		for _, w := range words {
			if !strings.Contains(" "+strings.Join(got, " ")+" ", " "+w+" ") {
				t.Errorf("%s: %q, not %q", c.line, strings.Join(got, " "), c.want)
				break
			}
		}
		if len(words) != len(got) {
			t.Errorf("%s: %q, not %q", c.line, strings.Join(got, " "), c.want)
		}
	}
}

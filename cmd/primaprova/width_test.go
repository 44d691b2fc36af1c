package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"primaprova/io/table"
)

// TestNothingPassesTheWidth shows a season, whose titles are long and one of whose
// scripts has no blanks, on terminals from the narrowest to a wide one.
func TestNothingPassesTheWidth(t *testing.T) {
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS("../../testdata/seasons/evenings")); err != nil {
		t.Fatal(err)
	}
	engines, err := filepath.Abs("../../.deps/engines")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(dir)
	if err := os.Symlink(engines, "engines"); err != nil {
		t.Fatal(err)
	}
	t.Setenv("PRIMAPROVA_ENGINES", "engines")
	t.Setenv("PRIMAPROVA_BUDGET", "5")
	t.Setenv("PRIMAPROVA_TODAY", "2027-01-11")
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	b, err := os.ReadFile("season.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range [][2]string{{"Symphony no. 3", "遠い灯台と静かな海と忘れられた港と雪の降る夜と長い長い冬の旅の終わりに聞こえる歌"},
		{"Small dance", "A small dance for the end of a long evening (after an older song arranged for full orchestra)"},
		{"arrives: 2027-01-14, estimate: 90 min", "arrives: 2027-01-21, estimate: 190 min"}} { // something is left out
		b = bytes.ReplaceAll(b, []byte(r[0]), []byte(r[1]))
	}
	if err := os.WriteFile("season.yaml", b, 0o600); err != nil {
		t.Fatal(err)
	}
	wellSaid(t, "plan")
	for _, command := range []string{"show", "show --on 2027-01-14", "show week", "show part", "show part brunn", "show programme", "show programme frost", "show load",
		"show chances", "show chances encore", "show memory", "show left-out", "show urgent", "check", "settings", "plan", "late ouv2 --arrives 2027-02-03 --try", "why"} {
		widths := []int{40, 60, 80, 120}
		if slices.Contains(withEngines, strings.Fields(command)[0]) {
			widths = []int{40, 80} // they take longer
		}
		for _, width := range widths {
			out, _ := wellSaid(t, fmt.Sprintf("%s --width %d", command, width))
			for line := range strings.Lines(out) {
				if line = strings.TrimSuffix(line, "\n"); table.Width(line) > width {
					t.Errorf("%s, %d columns: %d wide: %s", command, width, table.Width(line), line)
				}
			}
		}
	}
}

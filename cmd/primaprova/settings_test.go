package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Whatever stands in a settings file, the answer is the settings or faults that
// name the file.
func FuzzSettingsFile(f *testing.F) {
	for _, s := range []string{"season: tide.yaml\n", "seed: [1, 2]\n", "season: {a: b}\n", "? [a]\n: b\n", "1: 2\n", "- a\n", "\x00", "seed: 1e3\n", "SEED: 4\nseed: 5\n", "season.a: b\n", "limit: 90s\nlimit.x: 1\n", ""} {
		f.Add([]byte(s))
	}
	path := filepath.Join(f.TempDir(), "settings.yaml")
	f.Fuzz(func(t *testing.T, b []byte) {
		if err := os.WriteFile(path, b, 0o644); err != nil {
			t.Fatal(err)
		}
		var out, errs bytes.Buffer
		switch code := run([]string{"settings", "--settings", path}, strings.NewReader(""), &out, &errs); code {
		case exitDone:
			if n := strings.Count(out.String(), "\n"); n != 1+len(known) {
				t.Errorf("%d lines for %d settings:\n%s", n, len(known), out.String())
			}
		case exitInput:
			if out.Len() > 0 || !strings.Contains(errs.String(), path) {
				t.Errorf("said %q and %q", out.String(), errs.String())
			}
		default:
			t.Errorf("exit code %d: %s", code, errs.String())
		}
	})
}

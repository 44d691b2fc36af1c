package main

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"primaprova/io/caldav"
)

// FuzzCredentials: whatever stands in the file, it is two lines or a fault that
// names the file and does not hold what stands in it.
func FuzzCredentials(f *testing.F) {
	for _, s := range []string{"anna\nhush\n", "anna\r\nhush", "\ufeffanna\nhush\n", "", "\n\n", "anna\n", "a\nb\nc\n", strings.Repeat("x", 70_000)} {
		f.Add([]byte(s))
	}
	path := filepath.Join(f.TempDir(), "credentials")
	f.Setenv("PRIMAPROVA_CREDENTIALS", path)
	set, err := readSettings(rootCommand(&app{say: newVoice(os.Stdout, os.Stderr)}).Flags())
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		if err := os.WriteFile(path, b, 0o600); err != nil {
			t.Fatal(err)
		}
		who, err := (&app{set: set}).credentials()
		var wrong *trouble
		switch {
		case err == nil && (who.User == "" || who.Password == "" || strings.ContainsAny(who.User+who.Password, "\n")):
			t.Errorf("%q gives %#v", b, who)
		case err != nil && (!errors.As(err, &wrong) || wrong.code != exitInput || !strings.Contains(err.Error(), path)):
			t.Error(err)
		}
	})
}

// FuzzPublished: what is remembered of a calendar is this program's, or nothing.
func FuzzPublished(f *testing.F) {
	for _, s := range []string{`{"format":"primaprova/published/1","calendar":"https://a.invalid/","objects":{"a":{"etag":"1","sum":"2"}}}`, `{"format":"other"}`, `{`, `[]`, "null", "\x00", `{"format":"primaprova/published/1","objects":[]}`} {
		f.Add([]byte(s))
	}
	path := filepath.Join(f.TempDir(), "season.published.json")
	f.Fuzz(func(t *testing.T, b []byte) {
		if err := os.WriteFile(path, b, 0o600); err != nil {
			t.Fatal(err)
		}
		s, err := readPublished(path)
		if err != nil || s == nil || s.Format != "" && s.Format != caldav.StateFormat {
			t.Errorf("%+v, %v", s, err)
		}
	})
}

// FuzzLines: whatever lines say, each is something or has its fault, and its place.
func FuzzLines(f *testing.F) {
	for _, s := range []string{"all", "2-5 7 --minutes 15\n# note\n3 --tempo 84\n", "--pain --note 'left \"wrist'", "'open", "--undo=4", "--nothing", "\x00\n\r\n", "--minutes 99999999999999999999"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		all, err := saidInLines("lines", b)
		if err != nil {
			t.Fatal(err)
		}
		if n := bytes.Count(b, []byte("\n")) + 1; len(all) > n {
			t.Errorf("%d from %d lines", len(all), n)
		}
		for _, o := range all {
			if !strings.HasPrefix(o.where, "lines:") {
				t.Errorf("%q", o.where)
			}
		}
	})
}

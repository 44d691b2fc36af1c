package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// A session in the README is a block that begins with "$ primaprova": a command
// and all it says in 80 columns.
var session = regexp.MustCompile("(?s)```\n\\$ primaprova ([^\n]*)\n(.*?)```\n")

// TestReadme runs the README's sessions, one after the other in one folder, and
// wants what stands there. With UPDATE=1 it is written anew.
func TestReadme(t *testing.T) {
	readme, err := filepath.Abs("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	season, err := os.ReadFile("../../testdata/seasons/small.yaml")
	if err != nil {
		t.Fatal(err)
	}
	engines, err := filepath.Abs("../../.deps/engines")
	if err != nil {
		t.Fatal(err)
	}
	t.Setenv("PRIMAPROVA_ENGINES", engines)
	t.Setenv("PRIMAPROVA_WIDTH", "80")
	t.Setenv("PRIMAPROVA_TODAY", before)
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	t.Chdir(t.TempDir())
	if err := os.WriteFile("small.yaml", season, 0o644); err != nil {
		t.Fatal(err)
	}
	sessions := 0
	said := session.ReplaceAllFunc(text, func(block []byte) []byte {
		sessions++
		command := string(session.FindSubmatch(block)[1])
		var out, errs bytes.Buffer
		if code := run(strings.Fields(command), strings.NewReader(""), &out, &errs); code != exitDone && code != exitLeftOut {
			t.Errorf("%s: exit code %d: %s", command, code, errs.String())
		}
		got := []byte("```\n$ primaprova " + command + "\n" + out.String() + "```\n")
		if !bytes.Equal(got, block) && os.Getenv("UPDATE") == "" {
			t.Errorf("the README says\n%s\nprimaprova says\n%s", block, got)
		}
		return got
	})
	if sessions < 3 {
		t.Errorf("%d sessions found, there were three", sessions)
	}
	if os.Getenv("UPDATE") != "" {
		if err := os.WriteFile(readme, said, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

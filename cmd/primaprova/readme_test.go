package main

import (
	"bytes"
	"image/png"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// A session in a manual is a block that begins with "$ primaprova": a command
// and all it says in 80 columns.
var session = regexp.MustCompile("(?s)```\n\\$ primaprova ([^\n]*)\n(.*?)```\n")

// manuals are the pages that people read, the player's first.
var manuals = []string{"README.md", "docs/manual.md", "DEVELOPERS.md", "docs/measured.md", "docs/tried.md", "docs/lab.md"}

// TestReadme runs the sessions of README and manual, one after the other in one
// folder, and wants what stands there. With UPDATE=1 they are written anew.
func TestReadme(t *testing.T) {
	var pages []string
	for _, name := range manuals[:2] {
		page, err := filepath.Abs(filepath.Join("../..", name))
		if err != nil {
			t.Fatal(err)
		}
		pages = append(pages, page)
	}
	season := smallSeason(t)
	engines, err := filepath.Abs("../../.deps/engines")
	if err != nil {
		t.Fatal(err)
	}
	t.Setenv("PRIMAPROVA_ENGINES", engines)
	t.Setenv("PRIMAPROVA_WIDTH", "80")
	t.Setenv("PRIMAPROVA_TODAY", before)
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	t.Chdir(t.TempDir())
	if err := os.WriteFile("small.yaml", []byte(season), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, page := range pages {
		text, err := os.ReadFile(page)
		if err != nil {
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
				t.Errorf("%s says\n%s\nprimaprova says\n%s", filepath.Base(page), block, got)
			}
			return got
		})
		if sessions == 0 {
			t.Errorf("%s: no session found", page)
		}
		if os.Getenv("UPDATE") != "" {
			if err := os.WriteFile(page, said, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
}

var (
	link    = regexp.MustCompile(`\]\(([^)]+)\)`)
	heading = regexp.MustCompile(`(?m)^#+ (.*)$`)
)

// TestManualsLeadSomewhere follows every link of the manuals to a file or to a
// heading of the same page.
func TestManualsLeadSomewhere(t *testing.T) {
	for _, name := range manuals {
		text, err := os.ReadFile(filepath.Join("../..", name))
		if err != nil {
			t.Fatal(err)
		}
		anchors := map[string]bool{}
		for _, h := range heading.FindAllStringSubmatch(string(text), -1) {
			anchors["#"+strings.ReplaceAll(strings.ToLower(strings.ReplaceAll(h[1], ",", "")), " ", "-")] = true
		}
		links := link.FindAllStringSubmatch(string(text), -1)
		if len(links) == 0 {
			t.Errorf("%s: leads nowhere", name)
		}
		for _, l := range links {
			if strings.HasPrefix(l[1], "#") {
				if !anchors[l[1]] {
					t.Errorf("%s: %s: no such heading", name, l[1])
				}
			} else if _, err := os.Stat(filepath.Join("../..", filepath.Dir(name), l[1])); err != nil {
				t.Errorf("%s: %s: no such file", name, l[1])
			}
		}
	}
}

// TestManualsAreShort holds the pages to what one sits down to read, and the
// README's first picture to be one.
func TestManualsAreShort(t *testing.T) {
	for _, p := range []struct {
		name         string
		lines, bytes int // 0: as many as it takes
	}{{"README.md", 120, 0}, {"DEVELOPERS.md", 0, 25 << 10}, {"docs/lab.md", 0, 15 << 10}} {
		text, err := os.ReadFile(filepath.Join("../..", p.name))
		if err != nil {
			t.Fatal(err)
		}
		if n := bytes.Count(text, []byte("\n")); p.lines > 0 && n > p.lines {
			t.Errorf("%s: %d lines, %d at most", p.name, n, p.lines)
		}
		if p.bytes > 0 && len(text) > p.bytes {
			t.Errorf("%s: %d bytes, %d at most", p.name, len(text), p.bytes)
		}
	}
	f, err := os.Open("../../docs/month.png")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if _, err := png.DecodeConfig(f); err != nil {
		t.Errorf("docs/month.png: %v", err)
	}
}

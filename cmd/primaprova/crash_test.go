package main

import (
	"errors"
	"os"
	"regexp"
	"strings"
	"testing"
)

// counts gives a map back.
func counts(m map[string]int) map[string]int { return m }

// A panic ends in one line, the exit code of a fault of the program, and a
// report with nothing of the player's in it.
func TestBrokenDown(t *testing.T) {
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	for name, broken := range map[string]func(){
		"index out of range":  func() { var list []int; _ = list[len(os.Args)] },
		"*errors.errorString": func() { panic(errors.New("of Symphony in Slate")) },
		"string":              func() { panic("of Symphony in Slate") },
		"nil map":             func() { counts(nil)["Symphony in Slate"] = 1 },
	} {
		err := unbroken("show", func() error { broken(); return nil })
		var trouble *trouble
		if !errors.As(err, &trouble) || trouble.code != exitInternal || len(trouble.lines) != 1 || strings.Contains(err.Error(), "Slate") {
			t.Fatalf("%s: %v", name, err)
		}
		found := regexp.MustCompile(`stands in (\S+),`).FindStringSubmatch(err.Error())
		if found == nil {
			t.Fatal(err)
		}
		b, err := os.ReadFile(found[1])
		if err != nil {
			t.Fatal(err)
		}
		text := string(b)
		if !strings.Contains(text, "command: show\n") || !strings.Contains(text, name) || !strings.Contains(text, "crash_test.go:") || strings.Contains(text, "Slate") {
			t.Errorf("%s: %s", name, text)
		}
	}
	if err := unbroken("show", func() error { return os.ErrExist }); err != os.ErrExist {
		t.Error(err)
	}
}

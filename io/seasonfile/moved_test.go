package seasonfile

import (
	"testing"

	"go.yaml.in/yaml/v3"
)

// Names of calendars lead to the same files from another folder; an address and a whole
// path do so as they are.
func TestCalendarsFromAnotherFolder(t *testing.T) {
	const text = `busy: [a.ics, {file: ../b.ics}, "https://skerry.invalid/c.ics", {file: /home/d.ics}]`
	var doc yaml.Node
	if err := yaml.Unmarshal([]byte(text), &doc); err != nil {
		t.Fatal(err)
	}
	e := &editor{t: newText([]byte(text)), root: doc.Content[0]}
	got, done := "", 0
	for _, c := range e.moved(e.get(e.root, "busy"), "spring", ".") {
		got, done = got+text[done:c.from]+c.text, c.to
	}
	got += text[done:]
	if want := `busy: [spring/a.ics, {file: b.ics}, "https://skerry.invalid/c.ics", {file: /home/d.ics}]`; got != want {
		t.Errorf("%s\nwant %s", got, want)
	}
	if c := e.moved(e.get(e.root, "busy"), "spring/.", "spring"); len(c) > 0 {
		t.Errorf("from the same folder: %v", c)
	}
}

package main

import (
	"strings"
	"testing"
)

// A group that is measured anew takes the place of what stood there, and no other does.
func TestPage(t *testing.T) {
	b := &bench{rows: []row{{group: "late", what: "one", seconds: 2}, {group: "late", what: "two|three", note: "n"}}}
	page := b.page("# Old\n\n## start\n\nkept\n\n## late\n\nold\n", "command\nmachine")
	if want := "\n## late\n\ncommand\nmachine\n\n| what | seconds | note |\n| --- | --- | --- |\n| one | 2.00 |  |\n| two\\|three |  | n |\n\n## start\n\nkept\n"; !strings.HasSuffix(page, want) || !strings.HasPrefix(page, pageHead) {
		t.Errorf("%s", page)
	}
	b.rows = nil
	if again := b.page(page, "x"); again != page {
		t.Errorf("without rows: %s", again)
	}
}

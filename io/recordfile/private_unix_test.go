//go:build unix

package recordfile

import (
	"os"
	"path/filepath"
	"testing"

	"primaprova/model"
)

// A record is its owner's alone. One from before that stays as open as it is
// until something is noted in it.
func TestPrivate(t *testing.T) {
	path := filepath.Join(t.TempDir(), "season.record.jsonl")
	mode := func() os.FileMode {
		t.Helper()
		info, err := os.Stat(path)
		if err != nil {
			t.Fatal(err)
		}
		return info.Mode().Perm()
	}
	mustAppend(t, path, model.Event{Kind: model.DayLost, Date: day})
	if mode() != 0o600 {
		t.Error(mode())
	}
	if err := os.Chmod(path, 0o644); err != nil {
		t.Fatal(err)
	}
	mustAppend(t, path, model.Event{Kind: model.DayLost, Date: day})
	if mode() != 0o644 {
		t.Error(mode())
	}
	for _, e := range []model.Event{{Kind: model.DayLost, Date: day, Note: "a cold"}, {Kind: model.Pain, Date: day}} {
		if err := os.Chmod(path, 0o644); err != nil {
			t.Fatal(err)
		}
		mustAppend(t, path, e)
		if mode() != 0o600 {
			t.Error(e, mode())
		}
	}
}

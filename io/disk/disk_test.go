package disk

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

func read(t *testing.T, path string) string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func TestWrite(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "season.yaml")
	if err := Write(path, []byte("one"), 0o600); err != nil || read(t, path) != "one" {
		t.Fatal(err)
	}
	if info, _ := os.Stat(path); info.Mode().Perm() != 0o600 {
		t.Error(info.Mode())
	}
	if err := os.Chmod(path, 0o640); err != nil {
		t.Fatal(err)
	}
	link := filepath.Join(dir, "link.yaml")
	if err := os.Symlink(path, link); err != nil {
		t.Fatal(err)
	}
	if err := Write(link, []byte("two"), 0o600); err != nil || read(t, path) != "two" {
		t.Fatal(err)
	}
	if info, _ := os.Stat(path); info.Mode().Perm() != 0o640 {
		t.Error("the permissions that were there:", info.Mode())
	}
	if info, _ := os.Lstat(link); info.Mode().IsRegular() {
		t.Error("the link is a file now")
	}
	for _, bad := range []string{dir, filepath.Join(dir, "none", "x")} {
		var p *fs.PathError
		if err := Write(bad, nil, 0o600); !errors.As(err, &p) || p.Path != bad {
			t.Errorf("%s: %v", bad, err)
		}
	}
}

func TestCreate(t *testing.T) {
	path := filepath.Join(t.TempDir(), "season.yaml")
	var all sync.WaitGroup
	made := make(chan string, 20)
	for i := range 20 {
		all.Add(1)
		go func() {
			defer all.Done()
			text := strings.Repeat(fmt.Sprintf("%02d", i), 5000)
			if err := Create(path, []byte(text), 0o644); err == nil {
				made <- text
			} else if !errors.Is(err, fs.ErrExist) {
				t.Error(err)
			}
		}()
	}
	all.Wait()
	close(made)
	if len(made) != 1 || read(t, path) != <-made {
		t.Errorf("%d of 20 made it", len(made))
	}
	if list, _ := os.ReadDir(filepath.Dir(path)); len(list) != 1 {
		t.Error(list)
	}
}

// Who holds a season, by whichever of its files, is alone: counters are read and
// written by many at once, and none counts in vain.
func TestHold(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "season.plan.json")
	names := []string{"season.yaml", "season.plan.json", "season.plan.earlier.json", "season.record.jsonl", "season.published.json", "season.feed", "season.stand"}
	var all sync.WaitGroup
	for i := range 60 {
		all.Add(1)
		go func() {
			defer all.Done()
			release, err := Hold(filepath.Join(dir, names[i%len(names)]))
			if err != nil {
				t.Error(err)
				return
			}
			defer release()
			b, _ := os.ReadFile(path)
			if err := Write(path, append(b, '.'), 0o600); err != nil {
				t.Error(err)
			}
		}()
	}
	all.Wait()
	if b := read(t, path); b != strings.Repeat(".", 60) {
		t.Errorf("%d of 60", len(b))
	}
}

// What the killed left behind is swept: a season's own at once, since its lock is
// held; that of other files when it is old.
func TestSweep(t *testing.T) {
	dir := t.TempDir()
	old := time.Now().Add(-2 * time.Hour)
	for name, when := range map[string]time.Time{
		".season.yaml123456": time.Now(), ".season.plan.json9876543": time.Now(), ".season.ics123456": time.Now(), ".part.csv123456": old,
		".season.ics654321": old, ".other.yaml123456": time.Now(), ".season.yaml.swp": old, "season.yaml": old, ".season.yaml": old, ".primaprova-1": old, ".primaprova-2": time.Now(),
	} {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, nil, 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.Chtimes(path, when, when); err != nil {
			t.Fatal(err)
		}
	}
	release, err := Hold(filepath.Join(dir, "season.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	release()
	if err := errors.Join(Write(filepath.Join(dir, "season.ics"), nil, 0o600), Writable(filepath.Join(dir, "season.plan.json"))); err != nil {
		t.Fatal(err)
	}
	list, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var got bytes.Buffer
	for _, e := range list {
		fmt.Fprint(&got, e.Name(), " ")
	}
	if want := ".other.yaml123456 .part.csv123456 .primaprova-2 .season.ics123456 .season.lock .season.yaml .season.yaml.swp season.ics season.yaml "; got.String() != want {
		t.Errorf("%s\nwant %s", &got, want)
	}
}

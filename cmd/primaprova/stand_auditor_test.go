package main

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"primaprova/io/recordfile"
	"primaprova/model"
)

// The second auditor, which knows the page alone, says of records with words from the
// desk and from phones which line counts about each session: the same as we say.
func TestSecondAuditorOnWhatCounts(t *testing.T) {
	python, err := filepath.Abs("../../testdata/python")
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	day := model.NewDate(2027, time.March, 3)
	var want []string
	for n := range 40 {
		r := rand.New(rand.NewPCG(uint64(n), 3))
		path := filepath.Join(dir, fmt.Sprintf("%02d.record.jsonl", n))
		said := func() model.Event {
			return model.Event{Kind: []model.EventKind{model.Done, model.NotDone, model.DidNotHold}[r.IntN(3)], Date: day + model.Date(r.IntN(2)),
				Session: fmt.Sprintf("tide/slate/%d/visit-%d", r.IntN(2), 1+r.IntN(2)), Planned: 10, Took: model.Minutes(5 * r.IntN(4))}
		}
		for step := range 6 {
			if r.IntN(3) == 0 {
				if _, _, err = recordfile.Append(path, time.Now(), func(*recordfile.Record) ([]model.Event, error) { return []model.Event{said(), said()}, nil }); err != nil {
					t.Fatal(err)
				}
				continue
			}
			_, _, _, err := recordfile.Merge(path, time.Now(), func(book *recordfile.Record) (taps []model.Tap, _ error) {
				for i := range 3 {
					e := said()
					e.ID, e.Unseen = fmt.Sprintf("phone-%d-%d", 9-step, i), 1+r.IntN(book.Last+1)
					tap := model.Tap{Event: e}
					if book.Last > 0 && r.IntN(4) == 0 {
						tap = model.Tap{Event: model.Event{ID: e.ID, Unseen: e.Unseen, Kind: model.Undo}, TakesBack: fmt.Sprint(1 + r.IntN(book.Last))}
					}
					taps = append(taps, tap)
				}
				return taps, nil
			})
			if err != nil {
				t.Fatal(err)
			}
		}
		book, err := recordfile.Read(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range model.Counting(model.Standing(book.Events)) {
			want = append(want, fmt.Sprintf("%s %s %s %d %s %d", filepath.Base(path), e.Key().Name, e.Date, e.Entry, e.Kind, e.Took))
		}
	}
	const script = `
import glob, os, sys
from audit.record import Record
from audit.values import day
for path in sorted(glob.glob(sys.argv[1] + "/*")):
    for (name, _), l in Record(path, day("2027-04-01")).said.items():
        print(os.path.basename(path), name, l.get("date"), l.entry, l.kind, l.get("minutes", 0))
`
	c := exec.Command("python3", "-c", script, dir)
	c.Env = append(os.Environ(), "PYTHONPATH="+python, "PYTHONDONTWRITEBYTECODE=1")
	var stderr bytes.Buffer
	c.Stderr = &stderr
	out, err := c.Output()
	if err != nil {
		t.Fatalf("%v: %s", err, &stderr)
	}
	got := strings.Split(strings.TrimSpace(string(out)), "\n")
	slices.Sort(got)
	slices.Sort(want)
	if len(want) < 80 || !slices.Equal(got, want) {
		for _, x := range got {
			if !slices.Contains(want, x) {
				t.Errorf("the auditor has %s", x)
			}
		}
		t.Errorf("%d lines count, the auditor has %d", len(want), len(got))
	}
}

package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"primaprova/io/disk"
	"primaprova/io/planfile"
	"primaprova/io/seasonfile"
	"primaprova/model"
)

// TestPinsTogether: several pins at once, of different sessions. Whoever says
// "Wrote" has written, and nobody loses another's work.
func TestPinsTogether(t *testing.T) {
	text := smallSeason(t)
	sessions := []string{"thaw/icefields/read-through", "thaw/icefields/listening", "lantern/harbour/read-through", "lantern/harbour/listening",
		"lantern/lamplighters/read-through", "lantern/harbour/12-28/visit-1"}
	for range 8 {
		dir := folder{"season.yaml": text}.lay(t)
		var all sync.WaitGroup
		for i, session := range sessions {
			all.Add(1)
			go func() {
				defer all.Done()
				c, said := victim{args: []string{"pin", session, fmt.Sprintf("2027-03-%02d", 7+i%2)}}.begin(t, dir)
				if err := c.Wait(); err != nil || !strings.Contains(said.String(), "Wrote season.yaml.") {
					t.Errorf("%s: %v: %s", session, err, said)
				}
			}()
		}
		all.Wait()
		now := lie(t, dir)["season.yaml"]
		for _, session := range sessions {
			if strings.Count(now, session) != 1 {
				t.Errorf("%s stands %d times in the file", session, strings.Count(now, session))
			}
		}
	}
}

// TestSavedMeanwhile: what an editor saves while a command plans is not written
// over, and neither is another's plan.
func TestSavedMeanwhile(t *testing.T) {
	text := smallSeason(t)
	dir := folder{"season.yaml": text}.lay(t)
	t.Setenv("PRIMAPROVA_TODAY", "2027-03-01")
	does(t, dir, "plan")
	plan := lie(t, dir)["season.plan.json"]
	for what, save := range map[string]struct{ file, text, want string }{
		"the season": {"season.yaml", text + "# a note\n", "season.yaml: was changed by somebody else meanwhile; nothing was written"},
		"the plan":   {"season.plan.json", strings.Replace(plan, `"seed":1`, `"seed":2`, 1), "season.plan.json: was made anew by somebody else meanwhile"},
	} {
		dir := folder{"season.yaml": text, "season.plan.json": plan}.lay(t)
		path := filepath.Join(dir, "season.yaml")
		f, err := seasonfile.Read(path)
		if err != nil {
			t.Fatal(err)
		}
		edited, err := f.SetArrival("thaw/icefields", model.NewDate(2027, 3, 7))
		if err != nil {
			t.Fatal(err)
		}
		p, err := planfile.Read(planPath(path))
		if err != nil {
			t.Fatal(err)
		}
		h := &happened{stood: disk.Sum(planPath(path))}
		if err := os.WriteFile(filepath.Join(dir, save.file), []byte(save.text), 0o600); err != nil {
			t.Fatal(err)
		}
		a := &app{say: newVoice(io.Discard, io.Discard)}
		err = a.keep(f, edited, p, h)
		if now := lie(t, dir)[save.file]; err == nil || !strings.Contains(err.Error(), save.want) || now != save.text {
			t.Errorf("%s: %v; as it was saved: %v", what, err, now == save.text)
		}
	}
}

//go:build node

package ical

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os/exec"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"primaprova/model"
)

// A third reader, ical.js in Node, for make test-all: the same random plans
// around changes of clocks, the zone's own description counting as in
// TestReadersAgreeWithThePlan, and titles of odd characters.
func TestNodeAgrees(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	type file struct {
		name, work string
		want       map[string]event
	}
	var files []file
	var texts []string
	for k, c := range changesNear {
		s := skerry(c.zone, dated(t, c.date)-10)
		for j := range 3 {
			work := "x"
			for range 60 + 10*j + k {
				work += odd[r.IntN(len(odd))]
			}
			work += "x"
			s.Programmes[0].Parts[0].Work = work
			p := drawn(r, s, dated(t, c.date), j != 2)
			p.Follow(drawn(r, s, dated(t, c.date), j != 2))
			text := strings.ReplaceAll(written(t, s, p, calls), c.zone, fmt.Sprintf("Skerry/Light-%d", 10*k+j))
			files, texts = append(files, file{name(c.zone, j), plain(work), wanted(t, s, p)}), append(texts, text)
		}
	}
	in, err := json.Marshal(texts)
	if err != nil {
		t.Fatal(err)
	}
	script, err := filepath.Abs(filepath.Join("..", "..", "testdata", "node", "calendars.mjs"))
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("node", script)
	cmd.Dir = filepath.Join("..", "..", ".deps", "node") // make test-all installs it there
	cmd.Stdin = bytes.NewReader(in)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("calendars.mjs: %v\n%s", err, stderr.String())
	}
	var answers [][]event
	if err := json.Unmarshal(out, &answers); err != nil {
		t.Fatal(err)
	}
	for i, f := range files {
		if len(answers[i]) != len(f.want) {
			t.Errorf("%s: %d events, want %d", f.name, len(answers[i]), len(f.want))
		}
		for _, got := range answers[i] {
			if got.ID == model.StageID("tide/slate", model.ReadStage) && got.Status == "CONFIRMED" && !strings.Contains(got.Description, "\nslate = "+f.work+"; ") {
				t.Errorf("%s: %q, want %q", f.name, got.Description, f.work)
			}
			bare := got
			bare.UID, bare.Summary, bare.Description, bare.Categories = "", "", "", nil
			if !reflect.DeepEqual(bare, f.want[got.ID]) {
				t.Errorf("%s:\ngot  %+v\nwant %+v", f.name, bare, f.want[got.ID])
			}
		}
	}
}

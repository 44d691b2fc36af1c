package ical

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// The readers that calendars.py asks, and the time zone rules that both sides
// use here, so that a difference is one of reading and not of edition.
var (
	references = filepath.Join("..", "..", ".deps", "python")
	rules      = filepath.Join(references, "tzdata", "zoneinfo")
)

func TestMain(m *testing.M) {
	// Read by package time at the first LoadLocation.
	if _, err := os.Stat(rules); err == nil {
		os.Setenv("ZONEINFO", rules)
	}
	os.Exit(m.Run())
}

type request struct {
	Parse    []string    `json:"parse,omitempty"`
	Apply    [][]string  `json:"apply,omitempty"`
	Instants [][5]any    `json:"instants,omitempty"`
	UIDs     [][2]string `json:"uids,omitempty"`
}

type answer struct {
	Parse []struct {
		Icalendar   []event     `json:"icalendar"`
		Vobject     []event     `json:"vobject"`
		Recurrences [][3]string `json:"recurrences"`
		Zones       [][2]any    `json:"zones"`
	} `json:"parse"`
	Apply    [][][5]string `json:"apply"`
	Instants []string      `json:"instants"`
	UIDs     []string      `json:"uids"`
}

// event is what a reader understood; times are instants in UTC, days are days.
type event struct {
	ID          string   `json:"id"`
	UID         string   `json:"uid"`
	Sequence    int      `json:"sequence"`
	Status      string   `json:"status"`
	Stamp       string   `json:"stamp"`
	Start       string   `json:"start"`
	End         string   `json:"end"`
	Summary     string   `json:"summary"`
	Description string   `json:"description"`
	Categories  []string `json:"categories"`
	Color       string   `json:"color"`
	Alarms      []string `json:"alarms"`
}

// ask puts everything to one Python process, since starting it takes longest.
func ask(t *testing.T, q request) answer {
	t.Helper()
	if _, err := os.Stat(filepath.Join(references, "icalendar")); err != nil {
		t.Fatal("the independent readers are not there; fetch them with: make deps")
	}
	in, err := json.Marshal(q)
	if err != nil {
		t.Fatal(err)
	}
	where, err := filepath.Abs(references)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("python3", filepath.Join("..", "..", "testdata", "python", "calendars.py"))
	cmd.Env = append(os.Environ(), "PYTHONPATH="+where, "PYTHONTZPATH="+filepath.Join(where, "tzdata", "zoneinfo"), "PYTHONDONTWRITEBYTECODE=1")
	cmd.Stdin = bytes.NewReader(in)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("calendars.py: %v\n%s", err, stderr.String())
	}
	var a answer
	if err := json.Unmarshal(out, &a); err != nil {
		t.Fatal(err)
	}
	return a
}

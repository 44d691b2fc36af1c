package calendar

import (
	"os"
	"path/filepath"
	"regexp"
	"testing"
	"time"
)

// The names of zones on Windows, against the table that the package icalendar
// carries (made of the same source, Unicode CLDR). All of them are zones here.
func TestWindowsZones(t *testing.T) {
	b, err := os.ReadFile(filepath.Join(references, "icalendar", "timezone", "windows_to_olson.py"))
	if err != nil {
		t.Fatal("the independent readers are not there; fetch them with: make deps")
	}
	theirs := map[string]string{}
	for _, m := range regexp.MustCompile(`"([^"\n]+)": "([^"\n]+)"`).FindAllSubmatch(b, -1) {
		theirs[string(m[1])] = string(m[2])
	}
	if len(theirs) < 130 || len(theirs) != len(windowsZones) {
		t.Errorf("%d names, theirs are %d", len(windowsZones), len(theirs))
	}
	for name, zone := range theirs {
		if windowsZones[name] != zone {
			t.Errorf("%s is %s here and %s there", name, windowsZones[name], zone)
		}
		if _, err := time.LoadLocation(zone); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

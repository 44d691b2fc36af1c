package main

import (
	"encoding/pem"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestCalendarsByAddress: a calendar at an address is asked for by who plans; who
// works from the plan that stands asks nobody, and a network that is gone is in
// nobody's way. The address, which is a secret, is never said.
func TestCalendarsByAddress(t *testing.T) {
	lesson := "BEGIN:VCALENDAR\r\nBEGIN:VEVENT\r\nUID:a\r\nSUMMARY:Lesson\r\nDTSTART:20270303T100000Z\r\nDURATION:PT1H\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n"
	asked, sent := 0, 0
	office := httptest.NewTLSServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		asked++
		w.Header().Set("ETag", `"1"`)
		if r.Header.Get("If-None-Match") == `"1"` {
			w.WriteHeader(http.StatusNotModified)
			return
		}
		sent++
		_, _ = w.Write([]byte(lesson))
	}))
	defer office.Close()
	text := smallSeason(t)
	address := strings.Replace(office.URL, "https://", "webcal://", 1) + "/secret-4711/anna.ics"
	season := strings.Replace(text, "from: 2027", "hours: {every day: [09:00-13:00, 14:00-20:00]}\nbusy: ['"+address+"']\nfrom: 2027", 1)
	dir := folder{"season.yaml": season}.lay(t)
	authority := filepath.Join(t.TempDir(), "authority.pem")
	if err := os.WriteFile(authority, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: office.Certificate().Raw}), 0o600); err != nil {
		t.Fatal(err)
	}
	t.Setenv("SSL_CERT_FILE", authority)
	t.Setenv("PRIMAPROVA_TODAY", "2027-03-01")
	told := func(want int, args ...string) string {
		t.Helper()
		c, said := victim{args: args}.begin(t, dir)
		_ = c.Wait()
		if got := c.ProcessState.ExitCode(); got != want {
			t.Fatalf("%v: exit code %d: %s", args, got, said)
		}
		if strings.Contains(said.String(), "4711") {
			t.Errorf("%v: says the address: %s", args, said)
		}
		return said.String()
	}
	told(0, "check")
	told(0, "plan")
	if asked != 1 || sent != 1 { // the copy of check was of a moment ago
		t.Errorf("asked %d times, sent %d times", asked, sent)
	}
	told(0, "show")
	told(0, "record", "all", "--on", "2027-03-01")
	if asked != 1 {
		t.Errorf("who does not plan asked: %d", asked)
	}
	office.Close()
	aside := filepath.Join(dir, "season.calendars")
	list, err := os.ReadDir(aside)
	if err != nil || len(list) != 2 {
		t.Fatal(list, err)
	}
	for _, e := range list { // as if it had been asked for long ago
		if strings.HasSuffix(e.Name(), ".json") {
			path := filepath.Join(aside, e.Name())
			b, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(path, []byte(strings.Replace(string(b), `"asked":"2`, `"asked":"1`, 1)), 0o600); err != nil {
				t.Fatal(err)
			}
		}
	}
	if said := told(0, "plan"); !strings.Contains(said, "can't be reached (is the network there?); the copy of") {
		t.Error(said)
	}
	if said := told(0, "show"); strings.Contains(said, "reached") || strings.Contains(said, "has changed") {
		t.Error(said)
	}
	if err := os.RemoveAll(aside); err != nil {
		t.Fatal(err)
	}
	if said := told(2, "plan"); !strings.Contains(said, `"https://127.0.0.1:`) || !strings.Contains(said, "can't be reached") {
		t.Error(said)
	}
	if said := told(0, "show"); !strings.Contains(said, "no copy is kept; it is passed over") {
		t.Error(said)
	}
}

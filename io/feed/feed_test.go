package feed

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"primaprova/io/private"
)

func TestKey(t *testing.T) {
	path := filepath.Join(t.TempDir(), "season.feed")
	key, err := Key(path, false)
	if err != nil || len(key) != 43 {
		t.Fatalf("%q, %v", key, err)
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("%v, %v", info.Mode(), err)
	}
	if again, err := Key(path, false); err != nil || again != key {
		t.Errorf("%q, %v; want %q", again, err, key)
	}
	another, err := Key(path, true)
	if err != nil || another == key || len(another) != 43 {
		t.Errorf("%q, %v", another, err)
	}
	for _, text := range []string{"", "\n", "abc\n", strings.Repeat("a", 44), another[:40] + "/.."} {
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		if key, err := Key(path, false); err == nil {
			t.Errorf("%q is a key: %q", text, key)
		}
	}
	if err := os.Chmod(path, 0o640); err != nil {
		t.Fatal(err)
	}
	if _, err := Key(path, false); !errors.Is(err, private.ErrReadable) {
		t.Error(err)
	}
}

func always(key string) func() (string, error) {
	return func() (string, error) { return key, nil }
}

// A key that has been replaced leads nowhere from the next request on.
func TestRevoked(t *testing.T) {
	path := filepath.Join(t.TempDir(), "season.feed")
	old, err := Key(path, false)
	if err != nil {
		t.Fatal(err)
	}
	h := New(func() (string, error) { return Read(path) }, "b", func() ([]byte, error) { return []byte("x"), nil })
	status := func(key string) int {
		w := httptest.NewRecorder()
		h.ServeHTTP(w, httptest.NewRequest("GET", "/"+key+"/b", nil))
		return w.Code
	}
	if got := status(old); got != 200 {
		t.Error(got)
	}
	another, err := Key(path, true)
	if err != nil || status(old) != 404 || status(another) != 200 {
		t.Error(err, status(old), status(another))
	}
	if err := os.Remove(path); err != nil || status(another) != 404 || status("") != 404 {
		t.Error(err, status(another), status(""))
	}
}

func TestConditional(t *testing.T) {
	text, fault := "BEGIN:VCALENDAR\r\n", error(nil)
	h := New(always("secret"), "season.ics", func() ([]byte, error) { return []byte(text), fault })
	ask := func(method, path string, header ...string) *http.Response {
		r := httptest.NewRequest(method, path, nil)
		for i := 0; i < len(header); i += 2 {
			r.Header.Set(header[i], header[i+1])
		}
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		return w.Result()
	}
	status := func(want int, r *http.Response) {
		t.Helper()
		if r.StatusCode != want {
			t.Errorf("status %d, want %d", r.StatusCode, want)
		}
	}
	first := ask("GET", "/secret/season.ics")
	status(200, first)
	etag, changed := first.Header.Get("ETag"), first.Header.Get("Last-Modified")
	if first.Header.Get("Content-Type") != "text/calendar; charset=utf-8" || len(etag) != 34 || changed == "" || first.ContentLength != 17 {
		t.Errorf("%v", first.Header)
	}
	status(304, ask("GET", "/secret/season.ics", "If-None-Match", etag))
	status(304, ask("HEAD", "/secret/season.ics", "If-None-Match", `"x", W/`+etag))
	status(304, ask("GET", "/secret/season.ics", "If-Modified-Since", changed))
	status(200, ask("GET", "/secret/season.ics", "If-None-Match", `"x"`, "If-Modified-Since", changed)) // section 13.2.2: the tag counts
	status(412, ask("GET", "/secret/season.ics", "If-Match", `"x"`))
	status(206, ask("GET", "/secret/season.ics", "Range", "bytes=0-4"))
	status(200, ask("HEAD", "/secret/season.ics"))
	text = "BEGIN:VCALENDAR\r\nX\r\n" // in the same second
	status(200, ask("GET", "/secret/season.ics", "If-None-Match", etag))
	status(200, ask("GET", "/secret/season.ics", "If-Modified-Since", changed))

	for _, path := range []string{"/", "/secret", "/secret/", "/secret/season.icsx", "/Secret/season.ics", "/secret/../secret/season.ics", "/season.ics"} {
		status(404, ask("GET", path))
	}
	for _, method := range []string{"POST", "PUT", "DELETE", "OPTIONS", "PROPFIND"} {
		status(405, ask(method, "/secret/season.ics"))
		status(404, ask(method, "/x"))
	}
	fault = errors.New("/home/anna/season.yaml: is gone")
	status(503, ask("GET", "/secret/season.ics"))
	text, fault = "BEGIN:VCALENDAR\r\n", nil
	if back := ask("GET", "/secret/season.ics"); back.Header.Get("ETag") != etag || back.Header.Get("Last-Modified") == changed {
		t.Error("what was before comes back under its tag and at another time")
	}
}

func TestTimesRise(t *testing.T) {
	h := New(always("a"), "b", nil)
	now := time.Date(2027, 1, 1, 0, 0, 0, 999, time.UTC)
	var last time.Time
	for i := range 5 {
		_, changed := h.seen([]byte{byte(i)}, now)
		if !changed.After(last) || changed.Nanosecond() != 0 {
			t.Errorf("%v after %v", changed, last)
		}
		if _, again := h.seen([]byte{byte(i)}, now.Add(time.Hour)); again != changed {
			t.Errorf("unchanged, and %v instead of %v", again, changed)
		}
		last = changed
	}
}

// Calendars ask at once while the plan changes: each gets a tag and a time that
// belong together. For the race detector, too.
func TestManyAtOnce(t *testing.T) {
	var turn atomic.Int64
	h := New(always("a"), "b", func() ([]byte, error) { return []byte{byte(turn.Add(1) % 3)}, nil })
	var all sync.WaitGroup
	for range 8 {
		all.Add(1)
		go func() {
			defer all.Done()
			for range 50 {
				w := httptest.NewRecorder()
				h.ServeHTTP(w, httptest.NewRequest("GET", "/a/b", nil))
				sum := sha256.Sum256(w.Body.Bytes())
				if want := `"` + hex.EncodeToString(sum[:16]) + `"`; w.Code != 200 || w.Header().Get("ETag") != want {
					t.Errorf("%d %s, want %s", w.Code, w.Header().Get("ETag"), want)
				}
			}
		}()
	}
	all.Wait()
}

// FuzzKey: a file gives a key that fits into an address, or a fault.
func FuzzKey(f *testing.F) {
	for _, s := range []string{"", "\n", "abc\n", strings.Repeat("A", 43), strings.Repeat("A", 43) + "\n", strings.Repeat("-", 44), "\x00", strings.Repeat("A", 42) + "="} {
		f.Add([]byte(s))
	}
	path := filepath.Join(f.TempDir(), "season.feed")
	f.Fuzz(func(t *testing.T, b []byte) {
		if err := os.WriteFile(path, b, 0o600); err != nil {
			t.Fatal(err)
		}
		key, err := Read(path)
		if err == nil && (len(key) != 43 || strings.ContainsFunc(key, func(r rune) bool {
			return !strings.ContainsRune("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_", r)
		})) {
			t.Errorf("%q", key)
		}
	})
}

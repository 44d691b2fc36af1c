package webcal

import (
	"context"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// office is a server of calendars that keeps what it was asked.
type office struct {
	*httptest.Server
	answer func(http.ResponseWriter, *http.Request)
	asked  []*http.Request
}

func newOffice(t *testing.T) (*office, *Store, *time.Time) {
	t.Helper()
	o := &office{}
	o.Server = httptest.NewTLSServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		o.asked = append(o.asked, r)
		o.answer(w, r)
	}))
	t.Cleanup(o.Close)
	s := Open(filepath.Join(t.TempDir(), "season.calendars"), 1<<20, o.Client().Transport)
	now := time.Date(2027, 3, 1, 9, 0, 0, 0, time.UTC)
	s.now = func() time.Time { return now }
	return o, s, &now
}

func text(s string, header ...string) func(http.ResponseWriter, *http.Request) {
	return func(w http.ResponseWriter, _ *http.Request) {
		for i := 0; i < len(header); i += 2 {
			w.Header().Set(header[i], header[i+1])
		}
		_, _ = w.Write([]byte(s))
	}
}

func status(code int, header ...string) func(http.ResponseWriter, *http.Request) {
	return func(w http.ResponseWriter, _ *http.Request) {
		for i := 0; i < len(header); i += 2 {
			w.Header().Set(header[i], header[i+1])
		}
		w.WriteHeader(code)
	}
}

// What has not changed is not sent again, and nobody is asked twice in a minute.
func TestFetchSparingly(t *testing.T) {
	o, s, now := newOffice(t)
	address := o.URL + "/secret-4711/anna.ics"
	fetch := func(want string) {
		t.Helper()
		b, err := s.Fetch(context.Background(), address)
		if err != nil || string(b) != want {
			t.Fatalf("%q, %v; want %q", b, err, want)
		}
	}
	o.answer = text("one", "ETag", `"1"`, "Last-Modified", "Mon, 01 Mar 2027 08:00:00 GMT")
	fetch("one")
	fetch("one") // not kept, so asked again
	if err := s.Keep(address, []byte("one")); err != nil {
		t.Fatal(err)
	}
	fetch("one")
	if len(o.asked) != 2 {
		t.Errorf("asked %d times", len(o.asked))
	}
	*now = now.Add(time.Hour)
	o.answer = status(http.StatusNotModified)
	fetch("one")
	if r := o.asked[2]; r.Header.Get("If-None-Match") != `"1"` || r.Header.Get("If-Modified-Since") == "" {
		t.Error(r.Header)
	}
	if _, at, ok := s.Kept(address); !ok || !at.Equal(*now) {
		t.Error(at, ok)
	}
	*now = now.Add(time.Hour)
	o.answer = text("two, and no calendar")
	fetch("two, and no calendar") // who can't use it does not keep it
	if b, _, ok := s.Kept(address); !ok || string(b) != "one" {
		t.Errorf("%q", b)
	}
	// Another has changed the copy: its ETag is not asked with.
	if err := os.WriteFile(s.path(address, ".ics"), []byte("mine"), 0o600); err != nil {
		t.Fatal(err)
	}
	fetch("two, and no calendar")
	if r := o.asked[len(o.asked)-1]; r.Header.Get("If-None-Match") != "" {
		t.Error(r.Header)
	}
	list, err := os.ReadDir(s.dir)
	if err != nil || len(list) != 2 {
		t.Fatal(list, err)
	}
	for _, e := range list {
		b, _ := os.ReadFile(filepath.Join(s.dir, e.Name()))
		if info, _ := e.Info(); info.Mode().Perm() != 0o600 || strings.Contains(e.Name()+string(b), "4711") {
			t.Errorf("%s %v: %s", e.Name(), info.Mode(), b)
		}
	}
}

// Who is sent on to another server does not tell it the address it comes from.
func TestSentOn(t *testing.T) {
	o, s, _ := newOffice(t)
	other := *o
	other.Server = httptest.NewTLSServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		other.asked = append(other.asked, r)
		text("moved")(w, r)
	}))
	t.Cleanup(other.Close)
	o.answer = func(w http.ResponseWriter, r *http.Request) { http.Redirect(w, r, other.URL+"/new", http.StatusFound) }
	if b, err := s.Fetch(context.Background(), o.URL+"/secret-4711"); err != nil || string(b) != "moved" {
		t.Fatalf("%q, %v", b, err)
	}
	if r := other.asked[0]; strings.Contains(r.URL.String()+strings.Join(r.Header.Values("Referer"), ""), "4711") {
		t.Error(r.URL, r.Header)
	}
}

func TestPatience(t *testing.T) {
	for header, wait := range map[string]time.Duration{"120": 2 * time.Minute, "Mon, 01 Mar 2027 10:00:00 GMT": time.Hour, "9999999": 24 * time.Hour, "soon": 0, "-5": 0, "": 0} {
		o, s, now := newOffice(t)
		o.answer = status(http.StatusServiceUnavailable, "Retry-After", header)
		for range 2 {
			if _, err := s.Fetch(context.Background(), o.URL); err == nil || !strings.Contains(err.Error(), "asks for patience") {
				t.Error(err)
			}
		}
		if want := map[bool]int{true: 1, false: 2}[wait > 0]; len(o.asked) != want {
			t.Errorf("%q: asked %d times, not %d", header, len(o.asked), want)
		}
		*now = now.Add(wait)
		o.answer = text("x")
		if b, err := s.Fetch(context.Background(), o.URL); err != nil || string(b) != "x" {
			t.Errorf("%q: %q, %v", header, b, err)
		}
	}
}

// Errors are in the player's words, and hold no address.
func TestRefusals(t *testing.T) {
	for want, answer := range map[string]func(http.ResponseWriter, *http.Request){
		"no calendar at this address": status(404),
		"wants a login":               status(401),
		"answers 500":                 status(500),
		"answers 304":                 status(304), // of what we do not have
		"without encryption": func(w http.ResponseWriter, r *http.Request) {
			http.Redirect(w, r, "http://skerry.invalid/secret-4711", http.StatusFound)
		},
		"on and on":         func(w http.ResponseWriter, r *http.Request) { http.Redirect(w, r, "/secret-4711", http.StatusFound) },
		"larger than 1 MiB": text(strings.Repeat("x", 1<<20+1)),
		"broke the connection off": func(w http.ResponseWriter, _ *http.Request) {
			w.Header().Set("Content-Length", "99")
			_, _ = w.Write([]byte("x"))
		},
	} {
		o, s, _ := newOffice(t)
		o.answer = answer
		_, err := s.Fetch(context.Background(), o.URL+"/secret-4711")
		if err == nil || !strings.Contains(err.Error(), want) || strings.Contains(err.Error(), "4711") {
			t.Errorf("%v; want %s", err, want)
		}
	}
	o, s, _ := newOffice(t)
	s.client.Transport = http.DefaultTransport // which knows nothing of the test's certificate
	if _, err := s.Fetch(context.Background(), o.URL+"/secret-4711"); err == nil || !strings.Contains(err.Error(), "not one to trust") {
		t.Error(err)
	}
	o.Close()
	for _, address := range []string{o.URL + "/secret-4711", "http://skerry.invalid/secret-4711", "https:///secret-4711", "https://a b/secret-4711"} {
		if _, err := s.Fetch(context.Background(), address); err == nil || strings.Contains(err.Error(), "4711") {
			t.Errorf("%s: %v", address, err)
		}
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := s.Fetch(ctx, "https://skerry.invalid/secret-4711"); err == nil || err.Error() != "was stopped" {
		t.Error(err)
	}
}

package stand

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"sync"
	"testing"

	"primaprova/model"
)

const secret = "0123456789abcdefghijklmnopqrstuvwxyzABCDEFG"

// aDesk keeps what it is given in memory, by the rule of the record.
type aDesk struct {
	mu     sync.Mutex
	events []model.Event
	fault  error
}

func (d *aDesk) State() (State, error) { return State{Season: "<b>A season</b>", Unseen: 1}, d.fault }

func (d *aDesk) Take(taps []model.Tap) ([]model.Arrival, int, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	add, out := model.Merge(d.events, len(d.events)+1, taps)
	d.events = append(d.events, add...)
	return out, len(d.events) + 1, d.fault
}

func (d *aDesk) count() int {
	d.mu.Lock()
	defer d.mu.Unlock()
	return len(d.events)
}

func served(d Desk) *Handler { return New(func() (string, error) { return secret, nil }, d) }

// ask makes a request as it goes over the wire: the path is not made clean.
func ask(h http.Handler, method, path, body string, header ...string) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, "http://192.168.1.5:8348/", strings.NewReader(body))
	u, err := url.ParseRequestURI(path)
	if err != nil {
		panic(err)
	}
	r.URL.Path, r.URL.RawPath, r.URL.RawQuery = u.Path, u.RawPath, u.RawQuery
	if method == http.MethodPost {
		r.Header.Set("Content-Type", "application/json")
	}
	for i := 0; i+1 < len(header); i += 2 {
		if r.Header.Set(header[i], header[i+1]); header[i] == "Host" {
			r.Host = header[i+1]
		}
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

const aTap = `{"taps":[{"id":"phone-aa","unseen":1,"kind":"done","date":"2027-03-03","session":"tide/slate/45-61/visit-1"}]}`

// Who does not have the key learns that there is nothing, whatever is tried.
func TestNothingWithoutTheKey(t *testing.T) {
	d := &aDesk{}
	h := served(d)
	for _, path := range []string{"/", "/" + secret, "/" + secret[:42] + "/", "/" + secret + "x/", "/" + strings.ToUpper(secret) + "/", "//" + secret + "/", "/x/../" + secret + "/",
		"/" + secret + "/../" + secret + "/", "/" + secret + "/..", "/" + secret + "/./", "/" + secret + "//", "/" + secret + "/%2e%2e/season.yaml", "/" + secret + "/..%2fseason.yaml",
		"/%30" + secret[1:] + "%2f", "/" + secret + "/page.html", "/" + secret + "/" + h.version, "/" + secret + "/" + h.version + "/page.html", "/" + secret + "/" + h.version + "/../../season.yaml",
		"/" + secret + "/season.record.jsonl", "/" + secret + "/taps/", "/" + secret + "/taps%00", "/favicon.ico", "/robots.txt", "/?" + secret} {
		for _, method := range []string{"GET", "HEAD", "POST", "PUT", "OPTIONS"} {
			if w := ask(h, method, path, aTap); w.Code != 404 || strings.Contains(w.Body.String(), "stand") {
				t.Errorf("%s %s: %d %s", method, path, w.Code, w.Body)
			}
		}
	}
	none := New(func() (string, error) { return "", errors.New("gone") }, d)
	for _, path := range []string{"/", "//", "/" + secret + "/"} {
		if w := ask(none, "GET", path, ""); w.Code != 404 {
			t.Errorf("without a key, %s: %d", path, w.Code)
		}
	}
	if d.count() != 0 {
		t.Errorf("%d events", d.count())
	}
}

// A page from elsewhere, in the same browser, can neither read nor add: not by its own
// name made to lead here, nor by a form or a script.
func TestOtherOrigins(t *testing.T) {
	d := &aDesk{}
	h := served(d)
	for _, host := range []string{"evil.example", "evil.example:8348", "192.168.1.5.evil.example", "local", "a.b.local", "localhost.evil.example", ""} {
		if w := ask(h, "GET", "/"+secret+"/state", "", "Host", host); w.Code != 404 {
			t.Errorf("asked as %q: %d", host, w.Code)
		}
	}
	for _, host := range []string{"192.168.1.5:8348", "[fe80::1]:8348", "localhost:8348", "anna-laptop.local:8348", "127.0.0.1"} {
		if w := ask(h, "GET", "/"+secret+"/state", "", "Host", host); w.Code != 200 {
			t.Errorf("asked as %q: %d", host, w.Code)
		}
	}
	for _, header := range [][]string{{"Origin", "http://evil.example"}, {"Origin", "null"}, {"Origin", "https://192.168.1.5:8348"}, {"Origin", "http://192.168.1.5"}, {"Origin", "http://192.168.1.5:8348.evil.example"},
		{"Sec-Fetch-Site", "cross-site"}, {"Sec-Fetch-Site", "same-site"}, {"Sec-Fetch-Site", "none"}} {
		if w := ask(h, "POST", "/"+secret+"/taps", aTap, append(header, "Host", "192.168.1.5:8348")...); w.Code != 403 {
			t.Errorf("%v: %d", header, w.Code)
		}
	}
	for _, kind := range []string{"text/plain", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x", ""} {
		if w := ask(h, "POST", "/"+secret+"/taps", aTap, "Content-Type", kind); w.Code != 415 {
			t.Errorf("%s: %d", kind, w.Code)
		}
	}
	if d.count() != 0 {
		t.Errorf("%d events", d.count())
	}
	if w := ask(h, "POST", "/"+secret+"/taps", aTap, "Host", "192.168.1.5:8348", "Origin", "http://192.168.1.5:8348", "Sec-Fetch-Site", "same-origin"); w.Code != 200 || d.count() != 1 {
		t.Errorf("the page itself: %d %s", w.Code, w.Body)
	}
}

func TestBodies(t *testing.T) {
	d := &aDesk{}
	h := served(d)
	big := `{"taps":[` + strings.Repeat(" ", mostBody) + `]}`
	many := `{"taps":[` + strings.TrimSuffix(strings.Repeat(`{"kind":"pain"},`, mostTaps+1), ",") + `]}`
	for body, want := range map[string]int{"": 400, "{": 400, "[]": 400, "null x": 400, `{"taps":[{"kind":"undo","entry":3}]}`: 400, `{"taps":[{"kind":"day-lost"}]}`: 400, `{"taps":[]}{}`: 400,
		"{\"taps\":[{\"kind\":\"done\",\"bars\":\"\xff\"}]}": 400, `{"taps":[{"kind":"found","bars":"` + strings.Repeat("9", longest+1) + `"}]}`: 400, `{"taps":[{"date":"tomorrow","kind":"done"}]}`: 400, big: 413, many: 400, `{"taps":[]}`: 200} {
		if w := ask(h, "POST", "/"+secret+"/taps", body); w.Code != want {
			t.Errorf("%.60q: %d %s, want %d", body, w.Code, w.Body, want)
		}
	}
	// What can't be kept is told, and what is beside it is kept.
	w := ask(h, "POST", "/"+secret+"/taps", `{"taps":[{"id":"phone-aa","unseen":-5,"kind":"pain","date":"2027-03-03"},{"id":"phone-bb","kind":"done","date":"2027-03-03","session":"../../etc"},{"id":"phone-cc","kind":"undo","undoes":"phone-zz"}]}`)
	var a answer
	if err := json.Unmarshal(w.Body.Bytes(), &a); err != nil || len(a.Kept) != 1 || len(a.Refused) != 2 || a.Unseen != 2 || d.count() != 1 {
		t.Errorf("%s, %v", w.Body, err)
	}
	// When nothing is known to be in the record nothing is said of it.
	d.fault = errors.New("/home/anna/season.record.jsonl: no room")
	for _, w := range []*httptest.ResponseRecorder{ask(h, "POST", "/"+secret+"/taps", aTap), ask(h, "GET", "/"+secret+"/state", "")} {
		if w.Code != 503 || strings.Contains(w.Body.String(), "anna") {
			t.Errorf("%d %s", w.Code, w.Body)
		}
	}
	for path, allow := range map[string]string{"": "GET", "state": "GET", "taps": "POST"} {
		if w := ask(h, "DELETE", "/"+secret+"/"+path, ""); w.Code != 405 || w.Header().Get("Allow") != allow {
			t.Errorf("%s: %d, allows %s", path, w.Code, w.Header().Get("Allow"))
		}
	}
}

// 200 phones at once, over real connections, each sending its taps twice: each is
// answered, and each tap is kept once.
func TestTwoHundredAtOnce(t *testing.T) {
	d := &aDesk{}
	s := httptest.NewServer(served(d))
	defer s.Close()
	var all sync.WaitGroup
	for i := range 200 {
		all.Add(1)
		go func() {
			defer all.Done()
			body := strings.ReplaceAll(aTap, "phone-aa", fmt.Sprintf("phone-%03d", i))
			for range 2 {
				resp, err := http.Post(s.URL+"/"+secret+"/taps", "application/json", strings.NewReader(body))
				if err != nil {
					t.Error(err)
					return
				}
				b, _ := io.ReadAll(resp.Body)
				if resp.Body.Close(); resp.StatusCode != 200 || !strings.Contains(string(b), fmt.Sprintf(`"kept":["phone-%03d"]`, i)) {
					t.Errorf("%d %s", resp.StatusCode, b)
				}
			}
		}()
	}
	all.Wait()
	if d.count() != 200 {
		t.Errorf("%d taps are kept, of 200", d.count())
	}
}

// The page is small, whole, and takes nothing from elsewhere.
func TestThePage(t *testing.T) {
	h := served(&aDesk{})
	squeezed := 0
	for path, f := range h.files {
		squeezed += len(f.gz)
		w := ask(h, "GET", "/"+secret+"/"+path, "", "Accept-Encoding", "br, gzip;q=0.5")
		csp := w.Header().Get("Content-Security-Policy")
		if w.Code != 200 || w.Header().Get("Content-Encoding") != "gzip" || strings.Contains(csp, "unsafe") || !strings.HasPrefix(csp, "default-src 'none'") {
			t.Errorf("%s: %d %v", path, w.Code, w.Header())
		}
		z, err := gzip.NewReader(w.Body)
		if err != nil {
			t.Fatal(err)
		}
		if b, err := io.ReadAll(z); err != nil || !bytes.Equal(b, f.data) {
			t.Errorf("%s: %v", path, err)
		}
		for _, bad := range []string{"http://", "https://", "innerHTML", "eval(", " style=", "<script>"} {
			if path != h.version+"/icon.svg" && bytes.Contains(f.data, []byte(bad)) {
				t.Errorf("%s: has %q", path, bad)
			}
		}
	}
	if plain := ask(h, "GET", "/"+secret+"/", "", "Accept-Encoding", "gzip;q=0"); plain.Header().Get("Content-Encoding") != "" || !strings.Contains(plain.Body.String(), h.version+"/stand.js") {
		t.Errorf("%v %s", plain.Header(), plain.Body)
	}
	t.Logf("%d files, %d bytes squeezed", len(h.files), squeezed)
	if squeezed > 100_000 {
		t.Errorf("%d bytes", squeezed)
	}
	first := ask(h, "GET", "/"+secret+"/state", "")
	if again := ask(h, "GET", "/"+secret+"/state", "", "If-None-Match", first.Header().Get("ETag")); again.Code != 304 || again.Body.Len() > 0 {
		t.Errorf("%d %s", again.Code, again.Body)
	}
}

func TestNear(t *testing.T) {
	for ip, want := range map[string]bool{"127.0.0.1": true, "::1": true, "192.168.1.7": true, "10.2.3.4": true, "fe80::1": true, "fd00::1": true, "8.8.8.8": false, "2001:db8::1": false, "172.32.0.1": false} {
		if got := Near(&net.TCPAddr{IP: net.ParseIP(ip)}); got != want {
			t.Errorf("%s: %v", ip, got)
		}
	}
}

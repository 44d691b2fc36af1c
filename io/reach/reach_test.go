package reach

import (
	"context"
	"errors"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"
)

func TestPatience(t *testing.T) {
	now := time.Date(2027, 3, 1, 9, 0, 0, 0, time.UTC)
	for s, want := range map[string]time.Duration{"120": 2 * time.Minute, " 5 ": 5 * time.Second, "0": 0, "-3": 0, "": 0, "soon": 0, "9999999": longest,
		"Mon, 01 Mar 2027 10:00:00 GMT": time.Hour, "Mon, 01 Mar 2027 08:00:00 GMT": 0, "Mon, 01 Mar 2100 08:00:00 GMT": longest} {
		if got := Patience(http.Header{"Retry-After": {s}}, now); got != want {
			t.Errorf("%q: %v, not %v", s, got, want)
		}
	}
}

// What goes wrong on the way is said in plain words, without the address, and
// can still be told apart.
func TestPlainly(t *testing.T) {
	get := func(address string, transport http.RoundTripper, ctx context.Context) error {
		req, err := http.NewRequestWithContext(ctx, http.MethodGet, address, nil)
		if err != nil {
			t.Fatal(err)
		}
		resp, err := (&http.Client{Transport: transport}).Do(req)
		if err == nil {
			resp.Body.Close()
		}
		return Plainly(err)
	}
	strange := httptest.NewTLSServer(http.NotFoundHandler())
	defer strange.Close()
	breaks := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		c, _, err := w.(http.Hijacker).Hijack()
		if err == nil {
			_ = c.(*net.TCPConn).SetLinger(0)
			_ = c.Close()
		}
	}))
	defer breaks.Close()
	babbles := func(text string) string {
		s := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
			if c, _, err := w.(http.Hijacker).Hijack(); err == nil {
				_, _ = c.Write([]byte(text))
				_ = c.Close()
			}
		}))
		t.Cleanup(s.Close)
		return s.URL + "/secret-4711"
	}
	garbled, silent := babbles("HTTP/1.1 302 Found\r\nLocation: \x1b]0;secret-4711\r\n\r\n"), babbles("")
	gone := httptest.NewServer(http.NotFoundHandler())
	gone.Close()
	nowhere := &http.Transport{DialContext: func(context.Context, string, string) (net.Conn, error) {
		return nil, &net.OpError{Op: "dial", Err: &net.DNSError{Err: "no such host", Name: "secret-4711", IsNotFound: true}}
	}}
	stopped, stop := context.WithCancel(context.Background())
	stop()
	late, done := context.WithDeadline(context.Background(), time.Now().Add(-time.Second))
	defer done()
	for want, err := range map[string]error{
		"not one to trust":   get(strange.URL+"/secret-4711", nil, context.Background()),
		"can't be reached":   get(gone.URL+"/secret-4711", nil, context.Background()),
		"is not found":       get("http://skerry.invalid/secret-4711", nowhere, context.Background()),
		"broke":              get(breaks.URL+"/secret-4711", nil, context.Background()),
		"broke the":          get(silent, nil, context.Background()),
		"not a server":       get(garbled, nil, context.Background()),
		"not a server of":    get(strings.Replace(garbled, "http:", "https:", 1), nil, context.Background()),
		"was stopped":        get(strange.URL+"/secret-4711", nil, stopped),
		"not answer in time": get(strange.URL+"/secret-4711", nil, late),
	} {
		if err == nil || !strings.Contains(err.Error(), want) || strings.Contains(err.Error(), "4711") {
			t.Errorf("%v; want %s", err, want)
		}
	}
	if !errors.Is(get(strange.URL, nil, stopped), context.Canceled) || Plainly(nil) != nil {
		t.Error("what was stopped can't be told from other trouble")
	}
}

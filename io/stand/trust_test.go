package stand

import (
	"crypto/tls"
	"crypto/x509"
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"primaprova/io/private"
)

func TestRoot(t *testing.T) {
	path := filepath.Join(t.TempDir(), "root.pem")
	now := time.Date(2027, 3, 3, 12, 0, 0, 0, time.UTC)
	r, err := OpenRoot(path, now)
	if err != nil {
		t.Fatal(err)
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("%v, %v", info.Mode(), err)
	}
	again, err := OpenRoot(path, now.AddDate(1, 0, 0))
	if err != nil || again.Fingerprint() != r.Fingerprint() || !regexp.MustCompile(`^([0-9A-F]{2}:){31}[0-9A-F]{2}$`).MatchString(r.Fingerprint()) {
		t.Errorf("%v, %s", err, again.Fingerprint())
	}
	// A phone that trusts it trusts the page of one's own network, and no other.
	pool := x509.NewCertPool()
	pool.AddCert(r.cert)
	for host, want := range map[string]bool{"192.168.1.5": true, "10.0.0.7": true, "fe80::1": true, "127.0.0.1": true, "anna-laptop.local": true, "localhost": true,
		"8.8.8.8": false, "2001:db8::1": false, "bank.example": false, "local.example": false} {
		pair, err := again.Certificate([]string{host}, now)
		if err != nil {
			t.Fatal(err)
		}
		leaf, err := x509.ParseCertificate(pair.Certificate[0])
		if err != nil {
			t.Fatal(err)
		}
		name := host
		if strings.Contains(host, ":") {
			name = "[" + host + "]"
		}
		if _, err := leaf.Verify(x509.VerifyOptions{Roots: pool, DNSName: name, CurrentTime: now.AddDate(0, 0, 396)}); (err == nil) != want {
			t.Errorf("%s: %v", host, err)
		}
		if _, err := leaf.Verify(x509.VerifyOptions{Roots: pool, CurrentTime: now.AddDate(0, 0, 398)}); err == nil {
			t.Errorf("%s: holds for longer than phones take", host)
		}
	}
	if err := os.Chmod(path, 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := OpenRoot(path, now); !errors.Is(err, private.ErrReadable) {
		t.Error(err)
	}
	for _, text := range []string{"", "-----BEGIN CERTIFICATE-----\n"} {
		bad := filepath.Join(t.TempDir(), "bad.pem")
		if err := os.WriteFile(bad, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := OpenRoot(bad, now); err == nil || !strings.Contains(err.Error(), "holds no root") {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// The page over TLS: its own origin is an https one there, and nothing else adds.
func TestOverTLS(t *testing.T) {
	d := &aDesk{}
	r, err := OpenRoot(filepath.Join(t.TempDir(), "root.pem"), time.Now())
	if err != nil {
		t.Fatal(err)
	}
	pair, err := r.Certificate([]string{"127.0.0.1"}, time.Now())
	if err != nil {
		t.Fatal(err)
	}
	s := httptest.NewUnstartedServer(served(d))
	s.TLS = &tls.Config{Certificates: []tls.Certificate{pair}}
	s.StartTLS()
	defer s.Close()
	pool := x509.NewCertPool()
	pool.AddCert(r.cert)
	c := &http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: pool}}}
	for origin, want := range map[string]int{s.URL: 200, "http" + strings.TrimPrefix(s.URL, "https"): 403} {
		q, err := http.NewRequest(http.MethodPost, s.URL+"/"+secret+"/taps", strings.NewReader(aTap))
		if err != nil {
			t.Fatal(err)
		}
		q.Header.Set("Origin", origin)
		q.Header.Set("Content-Type", "application/json")
		resp, err := c.Do(q)
		if err != nil {
			t.Fatal(err)
		}
		if _ = resp.Body.Close(); resp.StatusCode != want {
			t.Errorf("%s: %d", origin, resp.StatusCode)
		}
	}
}

func TestSteps(t *testing.T) {
	r, err := OpenRoot(filepath.Join(t.TempDir(), "root.pem"), time.Now())
	if err != nil {
		t.Fatal(err)
	}
	h, err := Steps(func() (string, error) { return secret, nil }, r, "https://192.168.1.5:8348/"+secret+"/")
	if err != nil {
		t.Fatal(err)
	}
	if w := ask(h, "GET", "/"+secret+"/", ""); w.Code != 200 || !strings.Contains(w.Body.String(), r.Fingerprint()) || !strings.Contains(w.Body.String(), "https://192.168.1.5:8348/"+secret+"/") {
		t.Errorf("%d %s", w.Code, w.Body)
	}
	w := ask(h, "GET", "/"+secret+"/root.crt", "")
	b, _ := io.ReadAll(w.Body)
	if cert, err := x509.ParseCertificate(b); err != nil || !cert.Equal(r.cert) || w.Header().Get("Content-Type") != "application/x-x509-ca-cert" {
		t.Errorf("%v, %v", err, w.Header())
	}
	for _, path := range []string{"/", "/root.crt", "/" + secret + "/taps", "/" + secret + "/state", "/" + secret + "/root.pem"} {
		if w := ask(h, "GET", path, ""); w.Code != 404 {
			t.Errorf("%s: %d", path, w.Code)
		}
	}
}

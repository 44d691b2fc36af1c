package main

import (
	"crypto/sha256"
	"crypto/tls"
	"crypto/x509"
	"fmt"
	"io"
	"net/http"
	"regexp"
	"strings"
	"testing"
)

// TestStandEncrypted serves the page with a root of one's own: who trusts it reads the
// page, and what a phone needs first is served beside it, unencrypted.
func TestStandEncrypted(t *testing.T) {
	h := home(t, "2027-03-05", "--https")
	said := h.said.String()
	steps := regexp.MustCompile(`leads to: (http://\S+)`).FindStringSubmatch(said)
	if steps == nil || !strings.HasPrefix(h.address, "https://127.0.0.1:") {
		t.Fatalf("%s %s", h.address, said)
	}
	get := func(c *http.Client, address string) string {
		t.Helper()
		resp, err := c.Get(address)
		if err != nil {
			t.Fatal(err)
		}
		defer resp.Body.Close()
		b, err := io.ReadAll(resp.Body)
		if err != nil || resp.StatusCode != 200 {
			t.Fatalf("%s: %d %v", address, resp.StatusCode, err)
		}
		return string(b)
	}
	if _, err := http.Get(h.address); err == nil {
		t.Error("whoever does not trust the root gets the page")
	}
	root, err := x509.ParseCertificate([]byte(get(http.DefaultClient, steps[1]+"root.crt")))
	if err != nil {
		t.Fatal(err)
	}
	print := strings.ReplaceAll(fmt.Sprintf("% X", sha256.Sum256(root.Raw)), " ", ":")
	if !strings.Contains(said, print) || !strings.Contains(get(http.DefaultClient, steps[1]), print) {
		t.Errorf("%s is said nowhere: %s", print, said)
	}
	pool := x509.NewCertPool()
	pool.AddCert(root)
	phone := &http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: pool}}}
	if got := get(phone, h.address+"state"); !strings.Contains(got, "Three weeks at Brinemouth") {
		t.Error(got)
	}
}

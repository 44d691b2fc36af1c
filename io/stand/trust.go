package stand

import (
	"bytes"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"errors"
	"fmt"
	"io/fs"
	"math/big"
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"os"
	"strings"
	"time"

	"primaprova/io/disk"
	"primaprova/io/private"
)

// Root is a certificate authority of the player's own: a phone that trusts it gives the
// page what browsers give only to pages that came encrypted. It can vouch for addresses
// of networks of one's own and for .local names, and for nothing else in the world.
type Root struct {
	cert *x509.Certificate
	key  *ecdsa.PrivateKey
}

const (
	rootYears = 10
	leafDays  = 397 // phones refuse longer ones
)

// OpenRoot reads the root in a file that its owner alone may read; where there is none
// it makes one.
func OpenRoot(path string, now time.Time) (*Root, error) {
	f, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return newRoot(path, now)
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	if err := private.OnlyUserReads(f); err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	var b bytes.Buffer
	if _, err := b.ReadFrom(f); err != nil {
		return nil, err
	}
	pair, err := tls.X509KeyPair(b.Bytes(), b.Bytes())
	if err != nil {
		return nil, fmt.Errorf("%s: holds no root: %w", path, err)
	}
	key, ok := pair.PrivateKey.(*ecdsa.PrivateKey)
	if !ok || !pair.Leaf.IsCA {
		return nil, fmt.Errorf("%s: holds no root", path)
	}
	return &Root{pair.Leaf, key}, nil
}

func newRoot(path string, now time.Time) (*Root, error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, err
	}
	like := &x509.Certificate{SerialNumber: serial(), Subject: pkix.Name{CommonName: "primaprova at the stand, " + now.Format("2 January 2006")},
		NotBefore: now.Add(-time.Hour), NotAfter: now.AddDate(rootYears, 0, 0), IsCA: true, BasicConstraintsValid: true, MaxPathLenZero: true, KeyUsage: x509.KeyUsageCertSign,
		PermittedDNSDomainsCritical: true, PermittedDNSDomains: []string{"local", "localhost"}}
	for _, own := range []string{"10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "127.0.0.0/8", "fc00::/7", "fe80::/10", "::1/128"} {
		_, n, err := net.ParseCIDR(own)
		if err != nil {
			return nil, err
		}
		like.PermittedIPRanges = append(like.PermittedIPRanges, n)
	}
	der, err := x509.CreateCertificate(rand.Reader, like, like, &key.PublicKey, key)
	if err != nil {
		return nil, err
	}
	secret, err := x509.MarshalPKCS8PrivateKey(key)
	if err != nil {
		return nil, err
	}
	text := append(pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der}), pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: secret})...)
	if err := disk.Write(path, text, 0o600); err != nil {
		return nil, err
	}
	cert, err := x509.ParseCertificate(der)
	return &Root{cert, key}, err
}

func serial() *big.Int {
	b := make([]byte, 16)
	_, _ = rand.Read(b) // it never fails
	return new(big.Int).SetBytes(b)
}

// Certificate gives one for the names and addresses under which the page is served.
func (r *Root) Certificate(hosts []string, now time.Time) (tls.Certificate, error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return tls.Certificate{}, err
	}
	like := &x509.Certificate{SerialNumber: serial(), Subject: pkix.Name{CommonName: "primaprova at the stand"}, NotBefore: now.Add(-time.Hour), NotAfter: now.AddDate(0, 0, leafDays),
		KeyUsage: x509.KeyUsageDigitalSignature, ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth}}
	for _, h := range hosts {
		if ip := net.ParseIP(h); ip != nil {
			like.IPAddresses = append(like.IPAddresses, ip)
		} else {
			like.DNSNames = append(like.DNSNames, h)
		}
	}
	der, err := x509.CreateCertificate(rand.Reader, like, r.cert, &key.PublicKey, r.key)
	return tls.Certificate{Certificate: [][]byte{der, r.cert.Raw}, PrivateKey: key}, err
}

// Fingerprint is the sha256 of the root, as phones show it.
func (r *Root) Fingerprint() string {
	sum := sha256.Sum256(r.cert.Raw)
	return strings.ReplaceAll(fmt.Sprintf("% X", sum), " ", ":")
}

// under gives what of a path lies under the key. The comparison takes as long
// whatever is wrong; paths written in another way than as they are lead nowhere.
func under(key string, u *url.URL) (rest string, ok bool) {
	want := "/" + key + "/"
	if key == "" || u.RawPath != "" || len(u.Path) < len(want) || subtle.ConstantTimeCompare([]byte(u.Path[:len(want)]), []byte(want)) != 1 {
		return "", false
	}
	return u.Path[len(want):], true
}

// fromHere tells whether a request was made to this machine under a name that nobody
// else can give it: an address, localhost, or a name of the local network. A page from
// elsewhere whose name was made to lead here (DNS rebinding) asks under its own.
func fromHere(host string) bool {
	name := host
	if h, _, err := net.SplitHostPort(host); err == nil {
		name = h
	}
	name = strings.ToLower(strings.TrimSuffix(strings.Trim(name, "[]"), "."))
	if _, err := netip.ParseAddr(name); err == nil {
		return true
	}
	return name == "localhost" || strings.HasSuffix(name, ".local") && strings.Count(name, ".") == 1
}

// ownPage tells whether a request that adds something comes from the page itself:
// browsers say so in Origin, and in Sec-Fetch-Site where they have it. A program says neither.
func ownPage(r *http.Request) bool {
	if site := r.Header.Get("Sec-Fetch-Site"); site != "" && site != "same-origin" {
		return false
	}
	origin := r.Header.Get("Origin")
	if origin == "" {
		return true
	}
	u, err := url.Parse(origin)
	scheme := "http"
	if r.TLS != nil {
		scheme = "https"
	}
	return err == nil && u.Scheme == scheme && strings.EqualFold(u.Host, r.Host)
}

// Near tells whether an address is of this machine or of a network of one's own:
// where nothing else is said the page is served to no other.
func Near(addr net.Addr) bool {
	tcp, ok := addr.(*net.TCPAddr)
	if !ok {
		return false
	}
	ip := tcp.IP
	return ip.IsLoopback() || ip.IsPrivate() || ip.IsLinkLocalUnicast()
}

// headers hold for every answer. The page takes scripts and styles from its own path
// alone, nothing inline, and speaks to nobody else.
func headers(h http.Header) {
	h.Set("Content-Security-Policy", "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
}

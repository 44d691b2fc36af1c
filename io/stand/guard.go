package stand

import (
	"crypto/subtle"
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"strings"
)

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

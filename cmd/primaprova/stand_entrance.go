package main

import (
	"context"
	"crypto/tls"
	"errors"
	"net"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"golang.org/x/net/netutil"
	"rsc.io/qr"

	"primaprova/io/private"
	"primaprova/io/stand"
)

// entrance is where the page is to be had, and how phones come to it.
type entrance struct {
	a        *app
	season   string
	key      string
	hosts    []string // addresses with ports; the first is the one to be told
	listener net.Listener
	current  func() (string, error) // the key as it now is
	root     *stand.Root            // nil: unencrypted
	steps    string                 // the address of what a phone needs first, where it is encrypted
}

// page gives the page's address on one of the hosts.
func (e *entrance) page(host string) string {
	scheme := "http"
	if e.root != nil {
		scheme = "https"
	}
	return scheme + "://" + host + "/" + e.key + "/"
}

// rootPath is where the player's own root certificate lies, one for all seasons.
func rootPath() (string, error) {
	dir, err := os.UserConfigDir()
	if err != nil {
		return "", err
	}
	dir = filepath.Join(dir, "primaprova")
	return filepath.Join(dir, "stand-root.pem"), os.MkdirAll(dir, 0o700)
}

// encrypt has the page served over TLS, and beside it, on the next port, what a phone
// needs before it can trust that.
func (e *entrance) encrypt(ctx context.Context) error {
	path, err := rootPath()
	if err != nil {
		return fileTrouble(err)
	}
	root, err := stand.OpenRoot(path, time.Now())
	switch {
	case errors.Is(err, private.ErrReadable):
		return wrong("%v; the certificate's key is to stay private: %s", err, private.CloseCommand(quoted(path))).then("stand %s --https", quoted(e.season))
	case err != nil && strings.Contains(err.Error(), "holds no root"):
		return wrong("%v; without the file another one is made, which each phone has to take anew", err)
	case err != nil:
		return fileTrouble(err)
	}
	names := []string{"localhost"}
	if name, err := os.Hostname(); err == nil {
		names = append(names, strings.SplitN(strings.ToLower(name), ".", 2)[0]+".local")
	}
	for _, h := range e.hosts {
		if host, _, err := net.SplitHostPort(h); err == nil {
			names = append(names, host)
		}
	}
	cert, err := root.Certificate(names, time.Now())
	if err != nil {
		return err
	}
	e.root = root
	tcp, ok := e.listener.Addr().(*net.TCPAddr)
	if !ok {
		return errors.New("no address of the network")
	}
	l, err := net.Listen("tcp", (&net.TCPAddr{IP: tcp.IP, Port: tcp.Port + 1}).String())
	if err != nil {
		if l, err = net.Listen("tcp", (&net.TCPAddr{IP: tcp.IP}).String()); err != nil { // any other
			return err
		}
	}
	host, _, err := net.SplitHostPort(e.hosts[0])
	if err != nil {
		return err
	}
	e.steps = "http://" + net.JoinHostPort(host, strconv.Itoa(l.Addr().(*net.TCPAddr).Port)) + "/" + e.key + "/"
	h, err := stand.Steps(e.current, root, e.page(e.hosts[0]))
	if err != nil {
		return err
	}
	go func() { _ = serve(ctx, netutil.LimitListener(near{l}, mostAtOnce), h) }()
	e.listener = tls.NewListener(e.listener, &tls.Config{Certificates: []tls.Certificate{cert}, MinVersion: tls.VersionTLS12, NextProtos: []string{"http/1.1"}})
	return nil
}

// say says how phones come to the page.
func (e *entrance) say(secret string) {
	v := e.a.say
	var others []string
	for _, h := range e.hosts[1:] {
		others = append(others, e.page(h))
	}
	code := e.page(e.hosts[0])
	if e.steps != "" {
		code = e.steps
	}
	if os.Getenv("JOURNAL_STREAM") != "" { // systemd keeps what is printed, for others to read
		v.aside("Serving at %s; the secret part of the address stands in %s.", e.hosts[0], secret)
	} else {
		e.a.sayAddress(e.page(e.hosts[0]), code, others)
	}
	if e.root != nil {
		if os.Getenv("JOURNAL_STREAM") == "" {
			v.aside("Once for each phone, which the code leads to: %s", e.steps)
		}
		v.aside("Fingerprint (SHA-256) of the certificate: %s", e.root.Fingerprint())
	} else {
		v.aside("Open it on the phone, in the same network, and have its display stay on. It goes unencrypted:")
		v.aside("for a network of your own.")
	}
	v.aside("What is tapped goes into %s. Ctrl-C ends it.", recordPath(e.season))
}

// addresses gives those by which others reach this machine where it listens, as far as
// they will do: the one of the network that leads outside first.
func addresses(at net.Addr, willDo func(net.IP) bool) (out []string) {
	tcp, ok := at.(*net.TCPAddr)
	if !ok || len(tcp.IP) > 0 && !tcp.IP.IsUnspecified() {
		return []string{at.String()}
	}
	add := func(host string) {
		if s := net.JoinHostPort(host, strconv.Itoa(tcp.Port)); !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	// Nothing is sent: the system only says which address it would send from. The address
	// is one that is kept for documents (RFC 5737).
	if c, err := net.Dial("udp4", "192.0.2.1:9"); err == nil {
		if from, ok := c.LocalAddr().(*net.UDPAddr); ok && willDo(from.IP) {
			add(from.IP.String())
		}
		_ = c.Close()
	}
	all, _ := net.InterfaceAddrs()
	for _, i := range all {
		if ip, ok := i.(*net.IPNet); ok && ip.IP.To4() != nil && !ip.IP.IsLoopback() && !ip.IP.IsLinkLocalUnicast() && willDo(ip.IP) {
			add(ip.IP.String())
		}
	}
	if len(out) == 0 {
		add("localhost")
	}
	return out
}

// onOwnNetwork tells of addresses of networks of one's own, which lead nowhere from outside;
// anywhere of all.
func onOwnNetwork(ip net.IP) bool { return ip.IsPrivate() || ip.IsLinkLocalUnicast() }

func anywhere(net.IP) bool { return true }

// sayAddress says where the page is: on a terminal as a code for the camera, too, of
// the page itself unless it is of another.
func (a *app) sayAddress(page, code string, others []string) {
	a.say.result(page + "\n")
	if !a.say.plain() {
		if code, err := qr.Encode(code, qr.L); err == nil {
			a.sayCode(code)
		}
	}
	for _, other := range others {
		a.say.aside("or %s, in another network of this machine", other)
	}
}

// quietZone is how many modules around a code stay light: ISO/IEC 18004 wants four.
const quietZone = 4

// sayCode draws a code in half blocks, two modules above each other in one character:
// dark on light where there is colour, so that it is so on dark terminals too.
func (a *app) sayCode(code *qr.Code) {
	for _, line := range codeLines(code) {
		if !a.say.colour {
			a.say.result(line + "\n")
			continue
		}
		own(a.say.out, "\x1b[30;107m")
		a.say.result(line)
		own(a.say.out, "\x1b[0m\n")
	}
}

func codeLines(code *qr.Code) (out []string) {
	for y := -quietZone; y < code.Size+quietZone; y += 2 {
		var line strings.Builder
		for x := -quietZone; x < code.Size+quietZone; x++ {
			switch above, below := code.Black(x, y), code.Black(x, y+1); {
			case above && below:
				line.WriteRune('█')
			case above:
				line.WriteRune('▀')
			case below:
				line.WriteRune('▄')
			default:
				line.WriteByte(' ')
			}
		}
		out = append(out, line.String())
	}
	return out
}

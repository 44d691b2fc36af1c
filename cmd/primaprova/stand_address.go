package main

import (
	"net"
	"slices"
	"strconv"
	"strings"

	"rsc.io/qr"
)

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

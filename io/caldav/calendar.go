package caldav

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/url"
	"strings"
	"time"

	webdav "github.com/emersion/go-webdav/caldav"

	"primaprova/io/reach"
)

// Credentials say who asks. Both empty: nobody in particular.
type Credentials struct{ User, Password string }

// String keeps a password out of whatever is printed.
func (c Credentials) String() string { return c.User + ":***" }

// GoString does the same for %#v.
func (c Credentials) GoString() string { return c.String() }

// Calendar is one calendar on a server.
type Calendar struct {
	base *url.URL // ends in a slash
	who  Credentials
	http *http.Client
}

// Open takes the address of a calendar. The address must be of https, but for
// http on this machine; it holds no user and no password. Nothing is asked of
// the server yet. A nil transport is the ordinary one.
func Open(address string, who Credentials, transport http.RoundTripper) (*Calendar, error) {
	u, err := url.Parse(address)
	if err != nil || u.Host == "" {
		return nil, errors.New("is no address like https://calendar.example/anna/practice/")
	}
	if u.User != nil {
		return nil, errors.New("a user or a password does not belong in the address")
	}
	if u.Scheme != "https" && (u.Scheme != "http" || !loopback(u.Hostname())) {
		return nil, errors.New("is not https, and only this machine is spoken to without it")
	}
	if transport == nil { // which keeps a connection for each request under way
		t := http.DefaultTransport.(*http.Transport).Clone()
		t.MaxIdleConnsPerHost, t.MaxConnsPerHost = atOnce, atOnce
		transport = t
	}
	u.RawQuery, u.Fragment = "", ""
	if !strings.HasSuffix(u.Path, "/") {
		u = u.JoinPath("/")
	}
	return &Calendar{base: u, who: who, http: &http.Client{
		Transport: transport,
		Timeout:   time.Minute,
		// To follow would tell the password to whoever is named.
		CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
	}}, nil
}

func loopback(host string) bool {
	ip := net.ParseIP(host)
	return host == "localhost" || ip != nil && ip.IsLoopback()
}

// Address is the calendar's, with the slash at its end.
func (c *Calendar) Address() string { return c.base.String() }

// Refused is an answer that is not what was asked for.
type Refused struct {
	Status int
	Text   string        // the status in words, or where the server sends us
	Reason string        // the precondition that the server names (RFC 4918, section 16), or empty
	Wait   time.Duration // for which the server asks to be left alone
}

func (r *Refused) Error() string {
	s := fmt.Sprintf("the server answers %d %s", r.Status, r.Text)
	if r.Reason != "" {
		s += " (" + r.Reason + ")"
	}
	if r.Wait > 0 {
		s += fmt.Sprintf(" and asks for patience, %v from now", r.Wait)
	}
	return s
}

func refusal(err error) *Refused {
	var r *Refused
	errors.As(err, &r)
	return r
}

// Do sends a request with the user's name and password. It is for the
// library that finds calendars, too.
func (c *Calendar) Do(req *http.Request) (*http.Response, error) {
	if c.who != (Credentials{}) {
		req.SetBasicAuth(c.who.User, c.who.Password)
	}
	req.Header.Set("User-Agent", "primaprova")
	return c.http.Do(req)
}

// largest is the most of an answer that is read: a listing of a hundred
// thousand objects is smaller.
const largest = 16 << 20

// patience is how long a server that asks for it is waited for, all in all.
const patience = 30 * time.Second

// patiently asks again where the server wants to be left alone for a while, and
// says for how long.
func patiently(ctx context.Context, ask func() error) error {
	for waited := time.Duration(0); ; {
		err := ask()
		r := refusal(err)
		if r == nil || r.Status != http.StatusTooManyRequests && r.Status != http.StatusServiceUnavailable || r.Wait <= 0 || waited+r.Wait > patience {
			return err
		}
		waited += r.Wait
		select {
		case <-ctx.Done():
			return reach.Plainly(ctx.Err())
		case <-time.After(r.Wait):
		}
	}
}

// ask sends a request about the calendar or, with a name, about one of its
// objects. It fails with Refused where the status is not one of 2xx.
func (c *Calendar) ask(ctx context.Context, method, name string, header map[string]string, body string) (*http.Response, []byte, error) {
	u := *c.base
	u.Path += name
	u.RawPath = ""
	req, err := http.NewRequestWithContext(ctx, method, u.String(), strings.NewReader(body))
	if err != nil {
		return nil, nil, err
	}
	for k, v := range header {
		req.Header.Set(k, v)
	}
	if method == "PROPFIND" || method == "REPORT" {
		// They only ask. Named here and not sent, this has net/http ask again where a
		// kept connection turns out to be dead (net/http, Transport).
		req.Header["X-Idempotency-Key"] = nil
	}
	resp, err := c.Do(req)
	if err != nil {
		return nil, nil, reach.Plainly(err)
	}
	defer resp.Body.Close()
	b, err := io.ReadAll(io.LimitReader(resp.Body, largest+1))
	if err != nil {
		return nil, nil, reach.Plainly(err)
	}
	if len(b) > largest {
		return nil, nil, fmt.Errorf("the server answers with more than %d MiB", largest>>20)
	}
	if resp.StatusCode < 200 || resp.StatusCode > 299 {
		r := &Refused{Status: resp.StatusCode, Text: http.StatusText(resp.StatusCode), Reason: precondition(b), Wait: reach.Patience(resp.Header, time.Now())}
		if to := resp.Header.Get("Location"); to != "" && resp.StatusCode < 400 {
			r.Text += ", and sends on to " + to
		}
		return nil, nil, r
	}
	return resp, b, nil
}

// put writes an object: over the version with this ETag, or, where it is
// empty, only if there is none. It gives the new ETag, empty where the server
// names none.
func (c *Calendar) put(ctx context.Context, name string, data []byte, etag string) (string, error) {
	h := map[string]string{"Content-Type": "text/calendar; charset=utf-8", "If-Match": etag}
	if etag == "" {
		delete(h, "If-Match")
		h["If-None-Match"] = "*"
	}
	resp, _, err := c.ask(ctx, http.MethodPut, name, h, string(data))
	if err != nil {
		return "", err
	}
	if etag := resp.Header.Get("ETag"); !strings.HasPrefix(etag, "W/") {
		return etag, nil
	}
	return "", nil // it may differ from what was sent
}

// remove deletes the version of an object with this ETag.
func (c *Calendar) remove(ctx context.Context, name, etag string) error {
	_, _, err := c.ask(ctx, http.MethodDelete, name, map[string]string{"If-Match": etag}, "")
	if r := refusal(err); r != nil && (r.Status == http.StatusNotFound || r.Status == http.StatusGone) {
		return nil
	}
	return err
}

// Find gives the addresses of the user's calendars, by way of the user's
// principal (RFC 5397) and the folders of calendars that it names (RFC 4791,
// section 6.2.1).
func (c *Calendar) Find(ctx context.Context) ([]string, error) {
	lib, err := webdav.NewClient(c, c.Address())
	if err != nil {
		return nil, err
	}
	principal, err := lib.FindCurrentUserPrincipal(ctx)
	if err != nil {
		return nil, err
	}
	home, err := lib.FindCalendarHomeSet(ctx, principal)
	if err != nil {
		return nil, err
	}
	found, err := lib.FindCalendars(ctx, home)
	if err != nil {
		return nil, err
	}
	var out []string
	for _, f := range found {
		u := *c.base
		u.Path, u.RawPath = f.Path, ""
		out = append(out, u.String())
	}
	return out, nil
}

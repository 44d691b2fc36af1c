package webcal

import (
	"context"
	"crypto/tls"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"
)

// sparing is how long after it was asked for a calendar is not asked for again.
const sparing = time.Minute

// longestWait is the most that a server's Retry-After is heeded.
const longestWait = 24 * time.Hour

// Fetch gives the calendar at an address, the copy where the server says that
// nothing has changed or was asked a moment ago. The error says why there is
// none, without the address.
func (s *Store) Fetch(ctx context.Context, address string) ([]byte, error) {
	now := s.now()
	a := s.about(address)
	kept, _, there := s.Kept(address)
	ours := there && a.SHA256 == digest(kept) // ETag and Modified are of this copy
	switch {
	case now.Before(a.Wait):
		return nil, fmt.Errorf("the server asks for patience until %s", a.Wait.Local().Format("2006-01-02 15:04"))
	case ours && now.Sub(a.Asked) < sparing && !now.Before(a.Asked):
		return kept, nil
	}
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, address, nil)
	if err != nil || req.URL.Host == "" || req.URL.Scheme != "https" {
		return nil, errors.New("is no address of https")
	}
	req.Header.Set("User-Agent", "primaprova")
	req.Header.Set("Accept", "text/calendar, */*;q=0.5")
	if ours && a.ETag != "" {
		req.Header.Set("If-None-Match", a.ETag)
	}
	if ours && a.Modified != "" {
		req.Header.Set("If-Modified-Since", a.Modified)
	}
	resp, err := s.client.Do(req)
	if err != nil {
		return nil, plainly(err)
	}
	defer resp.Body.Close()
	a.Asked, a.Wait = now, time.Time{}
	switch {
	case resp.StatusCode == http.StatusNotModified && ours:
		a.Since = now
		_ = s.put(address, a) // what is not noted is asked for once more
		return kept, nil
	case resp.StatusCode != http.StatusOK:
		if a.Wait = until(resp.Header.Get("Retry-After"), now); !a.Wait.IsZero() {
			_ = s.put(address, a)
		}
		return nil, said(resp.StatusCode)
	}
	b, err := io.ReadAll(io.LimitReader(resp.Body, s.most+1))
	if err != nil {
		return nil, plainly(err)
	}
	if int64(len(b)) > s.most {
		return nil, fmt.Errorf("is larger than %d MiB, which no calendar of a player is", s.most>>20)
	}
	s.mu.Lock()
	s.fresh[address] = about{ETag: resp.Header.Get("ETag"), Modified: resp.Header.Get("Last-Modified"), Asked: now}
	s.mu.Unlock()
	return b, nil
}

// until reads Retry-After: seconds, or a date.
func until(s string, now time.Time) time.Time {
	var t time.Time
	if n, err := strconv.Atoi(strings.TrimSpace(s)); err == nil && n > 0 {
		t = now.Add(time.Duration(min(n, int(longestWait/time.Second))) * time.Second)
	} else if at, err := http.ParseTime(s); err == nil && at.After(now) {
		t = at
	}
	if t.After(now.Add(longestWait)) {
		t = now.Add(longestWait)
	}
	return t
}

func said(status int) error {
	switch status {
	case http.StatusNotFound, http.StatusGone:
		return errors.New("there is no calendar at this address any more")
	case http.StatusUnauthorized, http.StatusForbidden:
		return errors.New("the server wants a login, and an address alone is known here")
	case http.StatusTooManyRequests, http.StatusServiceUnavailable:
		return errors.New("the server asks for patience")
	}
	return fmt.Errorf("the server answers %d %s", status, http.StatusText(status))
}

// stayEncrypted follows where it is sent on to, but only by https, and not for
// ever.
func stayEncrypted(req *http.Request, via []*http.Request) error {
	if req.URL.Scheme != "https" {
		return errors.New("sends on to an address without encryption")
	}
	if len(via) >= 5 {
		return errors.New("sends on and on")
	}
	return nil
}

// plainly says in the player's words what kept an answer from coming; the
// address, which the library's errors hold, stays out.
func plainly(err error) error {
	var wrapped *url.Error
	if errors.As(err, &wrapped) {
		err = wrapped.Err
	}
	var dns *net.DNSError
	var cert *tls.CertificateVerificationError
	var netErr net.Error
	switch {
	case errors.Is(err, context.Canceled):
		return errors.New("was stopped")
	case errors.As(err, &dns):
		return errors.New("the server is not found (is the network there?)")
	case errors.As(err, &cert):
		return errors.New("the server's certificate is not one to trust")
	case errors.Is(err, context.DeadlineExceeded), errors.As(err, &netErr) && netErr.Timeout():
		return errors.New("the server does not answer in time")
	}
	var op *net.OpError
	if errors.As(err, &op) {
		return errors.New("the server can't be reached (is the network there?)")
	}
	return err
}

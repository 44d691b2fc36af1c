package webcal

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"time"

	"primaprova/io/reach"
)

// sparing is how long after it was asked for a calendar is not asked for again.
const sparing = time.Minute

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
		return nil, reach.Plainly(err)
	}
	defer resp.Body.Close()
	a.Asked, a.Wait = now, time.Time{}
	switch {
	case resp.StatusCode == http.StatusNotModified && ours:
		a.Since = now
		_ = s.put(address, a) // what is not noted is asked for once more
		return kept, nil
	case resp.StatusCode != http.StatusOK:
		if wait := reach.Patience(resp.Header, now); wait > 0 {
			a.Wait = now.Add(wait)
			_ = s.put(address, a)
		}
		return nil, said(resp.StatusCode)
	}
	b, err := io.ReadAll(io.LimitReader(resp.Body, s.most+1))
	if err != nil {
		return nil, reach.Plainly(err)
	}
	if int64(len(b)) > s.most {
		return nil, fmt.Errorf("is larger than %d MiB, which no calendar of a player is", s.most>>20)
	}
	s.mu.Lock()
	s.fresh[address] = about{ETag: resp.Header.Get("ETag"), Modified: resp.Header.Get("Last-Modified"), Asked: now}
	s.mu.Unlock()
	return b, nil
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
// ever. Where it comes from, which is the secret, is told nobody.
func stayEncrypted(req *http.Request, via []*http.Request) error {
	req.Header.Del("Referer")
	if req.URL.Scheme != "https" {
		return errors.New("sends on to an address without encryption")
	}
	if len(via) >= 5 {
		return errors.New("sends on and on")
	}
	return nil
}

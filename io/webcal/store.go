package webcal

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/http"
	"os"
	"path/filepath"
	"sync"
	"time"

	"primaprova/io/disk"
	"primaprova/io/reach"
)

// Store is a folder of copies.
type Store struct {
	dir    string
	most   int64 // bytes of a calendar that are read
	client *http.Client
	now    func() time.Time

	mu    sync.Mutex
	fresh map[string]about // of what was fetched and may become a copy, by name
}

// about is what is known of a copy besides its bytes.
type about struct {
	ETag     string    `json:"etag,omitempty"`
	Modified string    `json:"modified,omitempty"`
	Asked    time.Time `json:"asked"`           // when it was last asked for
	Wait     time.Time `json:"wait,omitzero"`   // until when not to ask again
	Since    time.Time `json:"since"`           // from when the copy is
	SHA256   string    `json:"sha256,omitzero"` // of the copy that ETag and Modified are of
}

// Open names the folder, which need not exist yet. A nil transport is the
// ordinary one.
func Open(dir string, most int64, transport http.RoundTripper) *Store {
	return &Store{dir: dir, most: most, now: time.Now, fresh: map[string]about{}, client: &http.Client{
		Transport: transport, Timeout: 20 * time.Second, CheckRedirect: stayEncrypted,
	}}
}

func (s *Store) path(name, ending string) string {
	sum := sha256.Sum256([]byte(name))
	return filepath.Join(s.dir, hex.EncodeToString(sum[:8])+ending)
}

// Kept gives the copy of a calendar, and from when it is.
func (s *Store) Kept(name string) (b []byte, at time.Time, ok bool) {
	path := s.path(name, ".ics")
	info, err := os.Stat(path)
	if err != nil || !info.Mode().IsRegular() || info.Size() > s.most {
		return nil, time.Time{}, false
	}
	b, err = os.ReadFile(path)
	if at = s.about(name).Since; at.IsZero() {
		at = info.ModTime()
	}
	return b, at, err == nil
}

// Keep makes a calendar that could be used the copy. A copy that is the same
// already stays, and is from now.
func (s *Store) Keep(name string, b []byte) error {
	s.mu.Lock()
	a, fetched := s.fresh[name]
	delete(s.fresh, name)
	s.mu.Unlock()
	old, _, there := s.Kept(name)
	if there && string(old) == string(b) && !fetched {
		return nil
	}
	if err := os.MkdirAll(s.dir, 0o700); err != nil {
		return err
	}
	if !there || string(old) != string(b) {
		if err := disk.Write(s.path(name, ".ics"), b, 0o600); err != nil {
			return err
		}
	}
	if !fetched {
		a = about{}
	}
	a.Since, a.SHA256 = s.now(), digest(b)
	return s.put(name, a)
}

func digest(b []byte) string {
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:])
}

func (s *Store) about(name string) (a about) {
	b, err := os.ReadFile(s.path(name, ".json"))
	if err != nil || json.Unmarshal(b, &a) != nil {
		return about{}
	}
	return a
}

func (s *Store) put(name string, a about) error {
	b, err := json.Marshal(a)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(s.dir, 0o700); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	return disk.Write(s.path(name, ".json"), append(b, '\n'), 0o600)
}

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

package webcal

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"io/fs"
	"net/http"
	"os"
	"path/filepath"
	"sync"
	"time"

	"primaprova/io/disk"
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

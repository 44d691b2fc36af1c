package feed

import (
	"bytes"
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base64"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"net/http"
	"os"
	"strings"
	"sync"
	"time"

	"primaprova/io/disk"
	"primaprova/io/private"
)

// Handler serves one calendar under one path.
type Handler struct {
	key    func() (string, error)
	name   string
	render func() ([]byte, error)

	mu      sync.Mutex
	etag    string    // of what was served last
	changed time.Time // when that was first seen, in whole seconds
}

// New makes a handler for /key/name. It asks for the key and the calendar at
// every request, so that a key no longer true leads nowhere at once, and a plan
// made meanwhile is what is served. Errors of render are answered with 503 and
// no more words than that.
func New(key func() (string, error), name string, render func() ([]byte, error)) *Handler {
	return &Handler{key: key, name: name, render: render}
}

// ServeHTTP answers GET and HEAD, conditional requests and ranges among them
// (RFC 9110, sections 13 and 14). Whoever has another path learns nothing.
func (h *Handler) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("X-Content-Type-Options", "nosniff")
	key, err := h.key()
	if err != nil || subtle.ConstantTimeCompare([]byte(r.URL.Path), []byte("/"+key+"/"+h.name)) != 1 {
		http.NotFound(w, r)
		return
	}
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		w.Header().Set("Allow", "GET, HEAD")
		http.Error(w, http.StatusText(http.StatusMethodNotAllowed), http.StatusMethodNotAllowed)
		return
	}
	b, err := h.render()
	if err != nil {
		http.Error(w, http.StatusText(http.StatusServiceUnavailable), http.StatusServiceUnavailable)
		return
	}
	etag, changed := h.seen(b, time.Now())
	w.Header().Set("ETag", etag)
	w.Header().Set("Content-Type", "text/calendar; charset=utf-8")
	w.Header().Set("Cache-Control", "private, no-cache") // keep it, but ask before using it
	http.ServeContent(w, r, "", changed, bytes.NewReader(b))
}

// seen gives a calendar's ETag, and the time from which on it is like this.
// That is when it was first served and not when files changed: what goes into
// it comes from more than one file. Each time is a later second than the one
// before, since those who ask by time alone know seconds only.
func (h *Handler) seen(b []byte, now time.Time) (etag string, changed time.Time) {
	sum := sha256.Sum256(b)
	etag = `"` + hex.EncodeToString(sum[:16]) + `"`
	h.mu.Lock()
	defer h.mu.Unlock()
	if etag != h.etag {
		now = now.Truncate(time.Second)
		if !now.After(h.changed) {
			now = h.changed.Add(time.Second)
		}
		h.etag, h.changed = etag, now
	}
	return h.etag, h.changed
}

// keyBytes of chance make a key: as many as an ordinary secret key has.
const keyBytes = 32

// Key reads the key in a file that its owner alone may read (private.ErrReadable). Where there is no
// such file, or another key is wanted, it makes one.
func Key(path string, another bool) (string, error) {
	if !another {
		if key, err := Read(path); !errors.Is(err, fs.ErrNotExist) {
			return key, err
		}
	}
	return newKey(path)
}

// Read reads the key; where there is none the error is fs.ErrNotExist.
func Read(path string) (string, error) {
	if info, err := os.Stat(path); err != nil {
		return "", err
	} else if !info.Mode().IsRegular() { // a pipe would wait for a writer
		return "", fmt.Errorf("%s: holds no key", path)
	}
	f, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer f.Close()
	if err := private.OnlyUserReads(f); err != nil {
		return "", fmt.Errorf("%s: %w", path, err)
	}
	b := make([]byte, 100)
	n, err := f.Read(b)
	if err != nil && n > 0 {
		return "", err
	}
	key := strings.TrimSpace(string(b[:n]))
	if raw, err := base64.RawURLEncoding.Strict().DecodeString(key); err != nil || len(raw) != keyBytes || strings.ContainsAny(key, "\r\n") { // which it passes over
		return "", fmt.Errorf("%s: holds no key", path)
	}
	return key, nil
}

func newKey(path string) (string, error) {
	b := make([]byte, keyBytes)
	if _, err := rand.Read(b); err != nil {
		return "", err
	}
	key := base64.RawURLEncoding.EncodeToString(b)
	// One that others may read is not to stay so.
	if err := os.Chmod(path, 0o600); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return "", err
	}
	return key, disk.Write(path, []byte(key+"\n"), 0o600)
}

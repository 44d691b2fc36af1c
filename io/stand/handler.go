package stand

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"net/http"
	"strconv"
	"strings"

	"primaprova/model"
)

// Desk is what stands behind the page.
type Desk interface {
	// State gives the days as they now stand.
	State() (State, error)
	// Take puts taps into the record, synced before it answers; unseen is the first
	// entry that is not in it then. An error: none is known to be there.
	Take(taps []model.Tap) (arrivals []model.Arrival, unseen int, err error)
}

// What is taken in at once.
const (
	mostBody = 64 << 10 // bytes
	mostTaps = 200
)

// Handler serves the page.
type Handler struct {
	key     func() (string, error)
	desk    Desk
	files   map[string]asset
	version string
}

// New makes a handler for /key/. It asks for the key at every request, so that one
// that is no longer true leads nowhere at once.
func New(key func() (string, error), desk Desk) *Handler {
	files, version := load()
	return &Handler{key, desk, files, version}
}

// ServeHTTP gives the page, its files and the state to GET, and takes taps by POST.
// Whoever has another path learns nothing but that there is nothing.
func (h *Handler) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	headers(w.Header())
	key, err := h.key()
	rest, ok := under(key, r.URL)
	if err != nil || !ok || !fromHere(r.Host) {
		http.NotFound(w, r)
		return
	}
	file, isFile := h.files[rest]
	want := http.MethodGet
	switch {
	case rest == "taps":
		want = http.MethodPost
	case rest != "state" && !isFile:
		http.NotFound(w, r)
		return
	}
	if r.Method != want {
		w.Header().Set("Allow", want)
		http.Error(w, http.StatusText(http.StatusMethodNotAllowed), http.StatusMethodNotAllowed)
		return
	}
	switch {
	case isFile:
		send(w, r, file, rest != "")
	case rest == "state":
		h.state(w, r)
	default:
		h.taps(w, r)
	}
}

// send gives a file of the page. Files lie under their version and may be kept; the
// page itself may be shown for a day from what the browser has kept, so that it comes
// back without the server too, and asks for a newer one itself (page/send.js).
func send(w http.ResponseWriter, r *http.Request, f asset, forGood bool) {
	w.Header().Set("Content-Type", f.kind)
	w.Header().Set("Cache-Control", "private, max-age=86400")
	if forGood {
		w.Header().Set("Cache-Control", "private, max-age=31536000, immutable")
	}
	w.Header().Set("Vary", "Accept-Encoding")
	data := f.data
	if takesGzip(r.Header.Get("Accept-Encoding")) {
		w.Header().Set("Content-Encoding", "gzip")
		data = f.gz
	}
	w.Header().Set("Content-Length", strconv.Itoa(len(data)))
	_, _ = w.Write(data) // who hangs up gets nothing
}

func (h *Handler) state(w http.ResponseWriter, r *http.Request) {
	s, err := h.desk.State()
	if err != nil {
		http.Error(w, http.StatusText(http.StatusServiceUnavailable), http.StatusServiceUnavailable)
		return
	}
	s.Version = h.version
	b, err := json.Marshal(s)
	if err != nil {
		http.Error(w, http.StatusText(http.StatusInternalServerError), http.StatusInternalServerError)
		return
	}
	sum := sha256.Sum256(b)
	etag := `"` + hex.EncodeToString(sum[:16]) + `"`
	w.Header().Set("Cache-Control", "no-store")
	w.Header().Set("ETag", etag)
	if r.Header.Get("If-None-Match") == etag {
		w.WriteHeader(http.StatusNotModified)
		return
	}
	send(w, r, asset{"application/json", b, squeezed(b)}, false)
}

// answer says what became of each tap.
type answer struct {
	Kept    []string  `json:"kept"`
	Refused []refusal `json:"refused"`
	Unseen  int       `json:"unseen"`
}

type refusal struct {
	ID  string `json:"id"`
	Why string `json:"why"`
}

func (h *Handler) taps(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Cache-Control", "no-store")
	kind, _, _ := strings.Cut(r.Header.Get("Content-Type"), ";")
	switch {
	case !ownPage(r):
		http.Error(w, http.StatusText(http.StatusForbidden), http.StatusForbidden)
		return
	case strings.TrimSpace(kind) != "application/json": // which no form of another page can send
		http.Error(w, http.StatusText(http.StatusUnsupportedMediaType), http.StatusUnsupportedMediaType)
		return
	}
	var body bytes.Buffer
	if _, err := body.ReadFrom(http.MaxBytesReader(w, r.Body, mostBody)); err != nil {
		status := http.StatusBadRequest
		if big := (*http.MaxBytesError)(nil); errors.As(err, &big) {
			status = http.StatusRequestEntityTooLarge
		}
		http.Error(w, http.StatusText(status), status)
		return
	}
	taps, err := decode(body.Bytes())
	if err != nil {
		http.Error(w, err.Error(), http.StatusBadRequest)
		return
	}
	arrivals, unseen, err := h.desk.Take(taps)
	if err != nil {
		http.Error(w, http.StatusText(http.StatusServiceUnavailable), http.StatusServiceUnavailable)
		return
	}
	out := answer{Kept: []string{}, Refused: []refusal{}, Unseen: unseen}
	for _, a := range arrivals {
		if a.Why == "" {
			out.Kept = append(out.Kept, a.ID)
		} else {
			out.Refused = append(out.Refused, refusal{a.ID, a.Why})
		}
	}
	w.Header().Set("Content-Type", "application/json")
	_ = json.NewEncoder(w).Encode(out) // who hangs up asks again
}

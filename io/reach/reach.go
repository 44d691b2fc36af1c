// Package reach says in a player's words what kept a server from answering, and
// for how long one that asks for patience is to be left alone. No error of it
// holds an address.
package reach

import (
	"context"
	"crypto/tls"
	"errors"
	"io"
	"net"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"
)

// Plainly says what kept an answer from coming. What it has no better words for
// stays as the library says it, without the address.
func Plainly(err error) error {
	var wrapped *url.Error
	if errors.As(err, &wrapped) {
		err = wrapped.Err
	}
	var dns *net.DNSError
	var cert *tls.CertificateVerificationError
	var timeout net.Error
	var op *net.OpError
	var record tls.RecordHeaderError
	switch {
	case err == nil:
		return nil
	case errors.Is(err, context.Canceled):
		return trouble{"was stopped", err}
	case errors.As(err, &dns):
		return trouble{"the server is not found (is the network there?)", err}
	case errors.As(err, &cert):
		return trouble{"the server's certificate is not one to trust", err}
	case errors.Is(err, context.DeadlineExceeded), errors.As(err, &timeout) && timeout.Timeout():
		return trouble{"the server does not answer in time", err}
	case errors.As(err, &op) && op.Op == "dial":
		return trouble{"the server can't be reached (is the network there?)", err}
	case errors.As(err, &op), errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		return trouble{"the server broke the connection off", err}
	case errors.As(err, &record), wrapped != nil && (errors.Is(err, http.ErrSchemeMismatch) || strings.Contains(err.Error(), "malformed")):
		return trouble{"what answers there is not a server of this kind", err}
	}
	return err
}

// trouble is said in our words, and is still what it was.
type trouble struct {
	text  string
	cause error
}

func (t trouble) Error() string { return t.text }
func (t trouble) Unwrap() error { return t.cause }

// longest is the most that a server's wish for patience is heeded.
const longest = 24 * time.Hour

// Patience reads Retry-After (RFC 9110, section 10.2.3): seconds, or a date. It
// is 0 where there is none that makes sense.
func Patience(h http.Header, now time.Time) time.Duration {
	s := strings.TrimSpace(h.Get("Retry-After"))
	if n, err := strconv.Atoi(s); err == nil {
		return time.Duration(max(0, min(n, int(longest/time.Second)))) * time.Second
	}
	at, err := http.ParseTime(s)
	if err != nil {
		return 0
	}
	return max(0, min(at.Sub(now), longest))
}

package caldav

import (
	"bytes"
	"io"
	"net/http"
	"regexp"
	"testing"

	"primaprova/io/caldav/testserver"
)

// weakening is a wire on which something squeezes answers, and says so of their ETags.
type weakening struct{ http.RoundTripper }

func (w weakening) RoundTrip(r *http.Request) (*http.Response, error) {
	resp, err := w.RoundTripper.RoundTrip(r)
	if err != nil {
		return resp, err
	}
	defer resp.Body.Close()
	b, err := io.ReadAll(resp.Body)
	weak := regexp.MustCompile(`(getetag>)(")`).ReplaceAll(b, []byte(`${1}W/"`))
	resp.Body, resp.ContentLength = io.NopCloser(bytes.NewReader(weak)), int64(len(weak))
	if etag := resp.Header.Get("ETag"); etag != "" {
		resp.Header.Set("ETag", "W/"+etag)
	}
	return resp, err
}

// Weak ETags are taken for those that the server gave.
func TestWeakened(t *testing.T) {
	f := begin(t, 4)
	var err error
	if f.cal, err = Open(f.address, Credentials{testserver.User, testserver.Password}, weakening{f.wire}); err != nil {
		t.Fatal(err)
	}
	f.publish(Report{Added: 4}, "PROPFIND 1, PUT 4")
	f.publish(Report{Same: 4}, "PROPFIND 1, REPORT 1") // what was written is looked at once
	f.publish(Report{Same: 4}, "PROPFIND 1")
	f.p.Objects[1] = object(1, "longer")
	f.p.Objects = f.p.Objects[:3]
	f.publish(Report{Changed: 1, Removed: 1, Same: 2}, "DELETE 1, PROPFIND 1, PUT 1")
	f.holds()
}

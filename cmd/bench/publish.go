package main

import (
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"sync/atomic"
	"time"
)

// publish measures the whole of a season's days going to a server that takes its time
// over each, as one far away does.
func (b *bench) publish() {
	const group, what = "publish", "the season by days, each answer after"
	season, err := b.planned()
	if err != nil {
		b.add(row{group: group, what: what, note: "FAILED: " + err.Error()})
		return
	}
	for _, wait := range []time.Duration{0, 50 * time.Millisecond, 100 * time.Millisecond} {
		b.doing("publish: %v", wait)
		var taken, opened atomic.Int32
		server := httptest.NewUnstartedServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			_, _ = io.Copy(io.Discard, r.Body)
			time.Sleep(wait)
			if r.Method == "PROPFIND" {
				w.WriteHeader(http.StatusMultiStatus)
				fmt.Fprintf(w, `<multistatus xmlns="DAV:"><response><href>%s</href><propstat><prop><resourcetype><C:calendar xmlns:C="urn:ietf:params:xml:ns:caldav"/></resourcetype></prop></propstat></response></multistatus>`, r.URL.Path)
				return
			}
			w.Header().Set("ETag", fmt.Sprintf("%q", fmt.Sprint(taken.Add(1))))
			w.WriteHeader(http.StatusCreated)
		}))
		server.Config.ConnState = func(_ net.Conn, s http.ConnState) {
			if s == http.StateNew {
				opened.Add(1)
			}
		}
		server.Start()
		r, ok := b.processes(group, fmt.Sprintf("%s %v", what, wait), 1, []string{"publish", season, "--server", server.URL + "/anna/practice/", "--calendar", "days"},
			"PRIMAPROVA_USER=anna", "PRIMAPROVA_PASSWORD=none", "PRIMAPROVA_TODAY=2027-01-10")
		server.Close()
		if ok {
			r.note = fmt.Sprintf("%d entries over %d connections", taken.Load(), opened.Load())
		}
		b.add(r)
	}
}

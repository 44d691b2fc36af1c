package caldav

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"maps"
	"net"
	"net/http"
	"net/http/httptest"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"primaprova/io/caldav/testserver"
)

// wire counts what goes over it, and can break.
type wire struct {
	mu     sync.Mutex
	sent   map[string]int // by method
	before func(*http.Request) error
	answer func(*http.Request) *http.Response // in place of the server, where it is not nil
}

func (w *wire) RoundTrip(r *http.Request) (*http.Response, error) {
	w.mu.Lock()
	w.sent[r.Method]++
	w.mu.Unlock()
	if w.before != nil {
		if err := w.before(r); err != nil {
			return nil, err
		}
	}
	if w.answer != nil {
		if resp := w.answer(r); resp != nil {
			return resp, nil
		}
	}
	return http.DefaultTransport.RoundTrip(r)
}

// counted gives what was sent since the last time.
func (w *wire) counted() string {
	var out []string
	for _, m := range slices.Sorted(maps.Keys(w.sent)) {
		out = append(out, fmt.Sprintf("%s %d", m, w.sent[m]))
	}
	w.sent = map[string]int{}
	return strings.Join(out, ", ")
}

// The objects of these tests show a title and a day. Their seal is of the two.
func object(k int, title string) Object {
	date := fmt.Sprintf("2027%02d%02d", 1+k/28%12, 1+k%28)
	seal := sealOf(title, date)
	uid := fmt.Sprintf("event-%04d", k)
	return Object{Name: "ours-" + uid + ".ics", Title: title, Sum: seal, Data: []byte(strings.Join([]string{"BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//x//y//EN",
		"BEGIN:VEVENT", "UID:" + uid, "DTSTAMP:20270101T000000Z", "DTSTART;VALUE=DATE:" + date, "SUMMARY:" + title, "X-SEAL:" + seal, "END:VEVENT", "END:VCALENDAR", ""}, "\r\n"))}
}

func sealOf(title, date string) string {
	sum := sha256.Sum256([]byte(title + "\n" + date))
	return hex.EncodeToString(sum[:8])
}

var shownLine = regexp.MustCompile(`(?m)^(SUMMARY|DTSTART;VALUE=DATE|X-SEAL):(.*?)\r?$`)

func untouched(data []byte) (string, bool) {
	v := map[string]string{}
	for _, m := range shownLine.FindAllStringSubmatch(string(data), -1) {
		v[m[1]] = m[2]
	}
	return v["X-SEAL"], v["X-SEAL"] == sealOf(v["SUMMARY"], v["DTSTART;VALUE=DATE"])
}

const foreign = "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//x//y//EN\r\nBEGIN:VEVENT\r\nUID:dentist\r\nDTSTAMP:20270101T000000Z\r\nDTSTART:20270105T100000Z\r\nSUMMARY:Dentist\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n"

// fixture is a calendar with a dentist in it, and a publication of n objects.
type fixture struct {
	t       *testing.T
	server  *testserver.Server
	address string
	wire    *wire
	cal     *Calendar
	p       *Publication
	state   State
	saves   int
}

func begin(t *testing.T, n int) *fixture {
	f := &fixture{t: t, server: testserver.Start(t), wire: &wire{sent: map[string]int{}}}
	f.address = f.server.Calendar("practice")
	f.server.Do(http.MethodPut, f.address+"dentist.ics", foreign)
	var err error
	if f.cal, err = Open(f.address, Credentials{testserver.User, testserver.Password}, f.wire); err != nil {
		t.Fatal(err)
	}
	f.p = &Publication{Prefix: "ours-", Untouched: untouched, Save: func(*State) error { f.saves++; return nil }}
	for k := range n {
		f.p.Objects = append(f.p.Objects, object(k, fmt.Sprintf("session %d", k)))
	}
	return f
}

// publish wants a report and nothing else on the wire.
func (f *fixture) publish(want Report, sent string) {
	f.t.Helper()
	r, err := f.cal.Publish(context.Background(), f.p, &f.state)
	if err != nil {
		f.t.Fatal(err)
	}
	if !reflect.DeepEqual(*r, want) {
		f.t.Errorf("report %+v, want %+v", *r, want)
	}
	if got := f.wire.counted(); got != sent {
		f.t.Errorf("on the wire: %s; want %s", got, sent)
	}
}

// holds wants the calendar to hold the publication and the dentist, and
// nothing else, but for what is named.
func (f *fixture) holds(but ...string) {
	f.t.Helper()
	kept := f.server.Kept("practice")
	if !strings.Contains(kept["dentist.ics"], "SUMMARY:Dentist\r\n") {
		f.t.Errorf("the dentist is %q", kept["dentist.ics"])
	}
	delete(kept, "dentist.ics")
	for _, name := range but {
		delete(kept, name)
	}
	for _, o := range f.p.Objects {
		if slices.Contains(but, o.Name) {
			continue
		}
		if sum, ok := untouched([]byte(kept[o.Name])); !ok || sum != o.Sum {
			f.t.Errorf("%s is %q", o.Name, kept[o.Name])
		}
		delete(kept, o.Name)
	}
	for name := range kept {
		f.t.Errorf("%s should not be there", name)
	}
}

// Hundreds of objects, then a change of a few: only those move. Then the server
// is killed in the middle of another change, and publishing again ends right,
// with and without the state.
func TestHundredsThenAFew(t *testing.T) {
	f := begin(t, 300)
	f.publish(Report{Added: 300}, "PROPFIND 1, PUT 300")
	f.holds()
	if f.saves != 7 {
		t.Errorf("the state was kept %d times", f.saves)
	}
	f.publish(Report{Same: 300}, "PROPFIND 1")

	for k := 100; k < 130; k++ {
		f.p.Objects[k] = object(k, "moved")
	}
	f.p.Objects = append(f.p.Objects[:250], f.p.Objects[260:]...)
	f.p.Objects = append(f.p.Objects, object(2000, "new"))
	f.publish(Report{Added: 1, Changed: 30, Removed: 10, Same: 260}, "DELETE 10, PROPFIND 1, PUT 31")
	f.holds()

	// From another computer, which knows nothing: all is looked at, nothing written.
	f.state = State{}
	f.publish(Report{Same: 291}, "PROPFIND 1, REPORT 3")

	for k := 150; k < 250; k++ {
		f.p.Objects[k] = object(k, "again")
	}
	var puts atomic.Int32
	killed := make(chan struct{})
	f.wire.before = func(r *http.Request) error {
		if r.Method == http.MethodPut && puts.Add(1) == 40 {
			go func() { // while it is at work on this one
				f.server.Kill()
				close(killed)
			}()
		}
		return nil
	}
	r, err := f.cal.Publish(context.Background(), f.p, &f.state)
	if err == nil || r.Waiting < 10 {
		t.Fatalf("the server was killed, and %+v, %v", r, err)
	}
	f.wire.before = nil
	<-killed // a process that is ending still takes connections, to reset them
	f.server.Start()
	f.wire.counted()
	forgetful := State{Calendar: f.state.Calendar, Objects: maps.Clone(f.state.Objects)}
	for k := 150; k < 170; k++ { // as if we had been killed too, before the state was kept
		delete(forgetful.Objects, f.p.Objects[k].Name)
	}
	f.state = forgetful
	again, err := f.cal.Publish(context.Background(), f.p, &f.state)
	if err != nil {
		t.Fatal(err)
	}
	if len(again.Conflicts) > 0 || again.Changed > r.Waiting || again.Added != 0 || again.Changed+again.Same != 291 {
		t.Errorf("first %+v, then %+v", *r, *again)
	}
	f.holds()
	f.wire.counted()
	f.publish(Report{Same: 291}, "PROPFIND 1")
}

// What was edited, removed or put there by hand is reported and stays, until
// it is asked to be replaced.
func TestByHand(t *testing.T) {
	for _, stateLost := range []bool{false, true} {
		f := begin(t, 6)
		f.publish(Report{Added: 6}, "PROPFIND 1, PUT 6")
		name := func(k int) string { return f.p.Objects[k].Name }
		edit := func(k int) {
			f.server.Do(http.MethodPut, f.address+name(k), strings.Replace(string(f.p.Objects[k].Data), "SUMMARY:", "SUMMARY:by hand ", 1))
		}
		edit(0)
		edit(1)
		edit(5)
		f.server.Do(http.MethodDelete, f.address+name(2), "")
		names := []string{name(0), name(1), name(2), name(5)}
		f.p.Objects[1] = object(1, "changed")
		f.p.Objects[3] = object(3, "changed")
		f.p.Objects = f.p.Objects[:5]
		want := Report{Changed: 1, Same: 1, Conflicts: []Conflict{{names[0], Edited}, {names[1], Edited}, {names[2], Removed}, {names[3], EditedGone}}}
		sent := "PROPFIND 1, PUT 1, REPORT 1"
		if stateLost { // that it was there once cannot be known then
			f.state = State{}
			want.Added, want.Conflicts = 1, slices.Delete(want.Conflicts, 2, 3)
			sent = "PROPFIND 1, PUT 2, REPORT 1"
		}
		f.publish(want, sent)
		f.holds(names...)
		kept := f.server.Kept("practice")
		for _, k := range []int{0, 1, 3} {
			if !strings.Contains(kept[names[k]], "by hand") {
				t.Errorf("%s was written over", names[k])
			}
		}
		want.Same, want.Changed, want.Added = want.Same+want.Changed+want.Added, 0, 0
		f.publish(want, "PROPFIND 1, REPORT 1") // and said again

		f.p.Replace = true
		replaced := Report{Changed: 2, Added: 1, Removed: 1, Same: 2}
		sent = "DELETE 1, PROPFIND 1, PUT 3, REPORT 1"
		if stateLost {
			replaced.Added, replaced.Same, sent = 0, 3, "DELETE 1, PROPFIND 1, PUT 2, REPORT 1"
		}
		f.publish(replaced, sent)
		f.holds()
	}
}

// What changes between looking and writing is not written over.
func TestMeanwhile(t *testing.T) {
	f := begin(t, 3)
	f.publish(Report{Added: 3}, "PROPFIND 1, PUT 3")
	f.p.Objects[0] = object(0, "changed")
	f.p.Objects = append(f.p.Objects[:2], object(7, "new"))
	var once sync.Once
	f.wire.before = func(r *http.Request) error {
		if r.Method == http.MethodPut || r.Method == http.MethodDelete {
			once.Do(func() {
				byHand := strings.Replace(string(object(0, "x").Data), "SUMMARY:", "SUMMARY:by hand ", 1)
				f.server.Do(http.MethodPut, f.address+"ours-event-0000.ics", byHand)
				f.server.Do(http.MethodPut, f.address+"ours-event-0007.ics", string(object(7, "by hand").Data))
				f.server.Do(http.MethodPut, f.address+"ours-event-0002.ics", string(object(2, "by hand").Data))
			})
		}
		return nil
	}
	names := []string{"ours-event-0000.ics", "ours-event-0002.ics", "ours-event-0007.ics"}
	f.publish(Report{Same: 1, Conflicts: []Conflict{{names[0], Meanwhile}, {names[1], Meanwhile}, {names[2], Meanwhile}}}, "DELETE 1, PROPFIND 1, PUT 2")
	f.holds(names...)
}

// Who took in the plan as a file has its entries under other names.
func TestUnderAnotherName(t *testing.T) {
	f := begin(t, 2)
	f.server.Do(http.MethodPut, f.address+"taken-in.ics", string(f.p.Objects[1].Data))
	f.publish(Report{Added: 1, Conflicts: []Conflict{{f.p.Objects[1].Name, UnderAnother}}}, "PROPFIND 1, PUT 2")
	f.holds(f.p.Objects[1].Name, "taken-in.ics")
}

func TestFindAndNoCalendar(t *testing.T) {
	f := begin(t, 1)
	for _, at := range []string{f.server.Root() + "anna/nothing/", f.server.Root() + "anna/"} {
		c, err := Open(at, Credentials{testserver.User, testserver.Password}, nil)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := c.Publish(context.Background(), f.p, &State{}); err != ErrNoCalendar {
			t.Errorf("%s: %v", at, err)
		}
	}
	c, err := Open(f.server.Root(), Credentials{testserver.User, testserver.Password}, nil)
	if err != nil {
		t.Fatal(err)
	}
	found, err := c.Find(context.Background())
	if err != nil || !reflect.DeepEqual(found, []string{f.address}) {
		t.Errorf("found %v, %v; want %s", found, err, f.address)
	}
	for _, who := range []Credentials{{}, {testserver.User, "wrong"}} {
		c, err := Open(f.address, who, nil)
		if err != nil {
			t.Fatal(err)
		}
		_, err = c.Publish(context.Background(), f.p, &State{})
		if r := refusal(err); r == nil || r.Status != http.StatusUnauthorized {
			t.Errorf("%v: %v", who, err)
		}
	}
	f.holds(f.p.Objects[0].Name)
}

// A plan that is lost comes back under another key. The entries under the old one
// are ours by what the state knows, or by what they show; those of another season
// stay, and are counted.
func TestAnotherKey(t *testing.T) {
	for _, stateLost := range []bool{false, true} {
		f := begin(t, 6)
		f.p.Prefix, f.p.Family = "ours-old-", "ours-"
		named := func(key string) {
			f.p.Prefix = "ours-" + key + "-"
			for i := range f.p.Objects {
				o := &f.p.Objects[i]
				o.Name = fmt.Sprintf("ours-%s-%d.ics", key, i)
				o.Data = []byte(regexp.MustCompile("UID:.*").ReplaceAllString(string(o.Data), "UID:"+key+fmt.Sprint(i)))
			}
		}
		named("old")
		f.publish(Report{Added: 6}, "PROPFIND 1, PUT 6")
		season := f.p.Objects
		f.server.Do(http.MethodPut, f.address+"ours-other-1.ics", strings.Replace(string(object(50, "another season").Data), "UID:", "UID:x", 1))

		f.p.Objects = nil
		for k := range 6 {
			f.p.Objects = append(f.p.Objects, object(k, season[k].Title))
		}
		f.p.Objects[5] = object(90, "later")
		shown := map[string]bool{}
		for _, o := range f.p.Objects {
			shown[o.Sum] = true
		}
		f.p.Twin = func(data []byte) bool { sum, _ := untouched(data); return shown[sum] }
		sent := "DELETE 6, PROPFIND 1, PUT 6"
		if stateLost {
			f.state = State{}
			sent = "DELETE 6, PROPFIND 1, PUT 6, REPORT 2" // to find them, and to see whether they are as they were
		}
		named("new")
		f.publish(Report{Added: 6, Removed: 6, Strangers: 1}, sent)
		f.holds("ours-other-1.ics")
		f.publish(Report{Same: 6, Strangers: 1}, "PROPFIND 1")
	}
}

// What the server wants not is named; the rest goes on. Where it asks for
// patience it gets it.
func TestDeclinedAndPatience(t *testing.T) {
	f := begin(t, 20)
	var busy atomic.Int32
	f.wire.answer = func(r *http.Request) *http.Response {
		answer := func(status int, header, body string) *http.Response {
			return &http.Response{StatusCode: status, Header: http.Header{"Retry-After": {header}}, Body: io.NopCloser(strings.NewReader(body)), Request: r}
		}
		switch {
		case r.Method != http.MethodPut:
		case strings.HasSuffix(r.URL.Path, f.p.Objects[3].Name):
			return answer(http.StatusForbidden, "", `<error xmlns="DAV:"><C:valid-calendar-object-resource xmlns:C="urn:ietf:params:xml:ns:caldav"/></error>`)
		case busy.Add(1) <= 2:
			return answer(http.StatusTooManyRequests, "1", "")
		}
		return nil
	}
	f.publish(Report{Added: 19, Conflicts: []Conflict{{f.p.Objects[3].Name, Declined}}}, "PROPFIND 1, PUT 22")
	f.wire.answer = func(r *http.Request) *http.Response {
		if r.Method == http.MethodPut {
			return &http.Response{StatusCode: http.StatusServiceUnavailable, Header: http.Header{"Retry-After": {"3600"}}, Body: http.NoBody, Request: r}
		}
		return nil
	}
	r, err := f.cal.Publish(context.Background(), f.p, &f.state)
	if err == nil || !strings.Contains(err.Error(), "asks for patience, 1h0m0s") || r.Waiting != 1 {
		t.Errorf("%+v, %v", r, err)
	}
}

// Several requests are under way at a time, and connections are kept.
func TestSeveralAtOnce(t *testing.T) {
	var now, most, opened atomic.Int32
	server := httptest.NewUnstartedServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method == "PROPFIND" {
			w.WriteHeader(http.StatusMultiStatus)
			fmt.Fprintf(w, `<multistatus xmlns="DAV:"><response><href>%s</href><propstat><prop><resourcetype><C:calendar xmlns:C="urn:ietf:params:xml:ns:caldav"/></resourcetype></prop></propstat></response></multistatus>`, r.URL.Path)
			return
		}
		n := now.Add(1)
		for old := most.Load(); n > old && !most.CompareAndSwap(old, n); old = most.Load() {
		}
		for wait := 0; wait < 200 && most.Load() < atOnce; wait++ { // for the others to come
			time.Sleep(time.Millisecond)
		}
		_, _ = io.Copy(io.Discard, r.Body)
		now.Add(-1)
		w.WriteHeader(http.StatusCreated)
	}))
	server.Config.ConnState = func(_ net.Conn, s http.ConnState) {
		if s == http.StateNew {
			opened.Add(1)
		}
	}
	server.Start()
	defer server.Close()
	c, err := Open(server.URL+"/anna/", Credentials{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	p := &Publication{Prefix: "ours-", Untouched: untouched, Save: func(*State) error { return nil }}
	for k := range 217 {
		p.Objects = append(p.Objects, object(k, "x"))
	}
	r, err := c.Publish(context.Background(), p, &State{})
	if err != nil || r.Added != 217 {
		t.Fatal(r, err)
	}
	if most.Load() != atOnce || opened.Load() > atOnce {
		t.Errorf("%d at once, over %d connections", most.Load(), opened.Load())
	}
}

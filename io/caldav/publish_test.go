package caldav

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"net/http"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"primaprova/io/caldav/testserver"
)

// wire counts what goes over it, and can break.
type wire struct {
	mu     sync.Mutex
	sent   map[string]int // by method
	before func(*http.Request) error
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

// A thousand objects, then a change of a few: only those move. Then the server
// is killed in the middle of another change, and publishing again ends right,
// with and without the state.
func TestAThousandThenAFew(t *testing.T) {
	f := begin(t, 1000)
	f.publish(Report{Added: 1000}, "PROPFIND 1, PUT 1000")
	f.holds()
	if f.saves != 21 {
		t.Errorf("the state was kept %d times", f.saves)
	}
	f.publish(Report{Same: 1000}, "PROPFIND 1")

	for k := 100; k < 130; k++ {
		f.p.Objects[k] = object(k, "moved")
	}
	f.p.Objects = append(f.p.Objects[:500], f.p.Objects[510:]...)
	f.p.Objects = append(f.p.Objects, object(2000, "new"))
	f.publish(Report{Added: 1, Changed: 30, Removed: 10, Same: 960}, "DELETE 10, PROPFIND 1, PUT 31")
	f.holds()

	// From another computer, which knows nothing: all is looked at, nothing written.
	f.state = State{}
	f.publish(Report{Same: 991}, "PROPFIND 1, REPORT 10")

	for k := 200; k < 300; k++ {
		f.p.Objects[k] = object(k, "again")
	}
	puts, killed := 0, make(chan struct{})
	f.wire.before = func(r *http.Request) error {
		if puts++; r.Method == http.MethodPut && puts == 40 {
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
	for k := 200; k < 220; k++ { // as if we had been killed too, before the state was kept
		delete(forgetful.Objects, f.p.Objects[k].Name)
	}
	f.state = forgetful
	again, err := f.cal.Publish(context.Background(), f.p, &f.state)
	if err != nil {
		t.Fatal(err)
	}
	if len(again.Conflicts) > 0 || again.Changed > r.Waiting || again.Added != 0 || again.Changed+again.Same != 991 {
		t.Errorf("first %+v, then %+v", *r, *again)
	}
	f.holds()
	f.wire.counted()
	f.publish(Report{Same: 991}, "PROPFIND 1")
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
		if r.Method == http.MethodPut {
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

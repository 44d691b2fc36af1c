package main

import (
	"bytes"
	"encoding/json"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"rsc.io/qr"

	"primaprova/io/stand"
	"primaprova/model"
)

func (h *atHome) state() (s stand.State) {
	h.t.Helper()
	resp, err := http.Get(h.address + "state")
	if err != nil {
		h.t.Fatal(err)
	}
	defer resp.Body.Close()
	if err := json.NewDecoder(resp.Body).Decode(&s); err != nil || resp.StatusCode != 200 {
		h.t.Fatal(resp.StatusCode, err)
	}
	return s
}

// sends sends taps, and gives the answer.
func (h *atHome) sends(taps string) string {
	h.t.Helper()
	resp, err := http.Post(h.address+"taps", "application/json", strings.NewReader(`{"taps":[`+taps+`]}`))
	if err != nil {
		h.t.Fatal(err)
	}
	defer resp.Body.Close()
	b, err := io.ReadAll(resp.Body)
	if err != nil || resp.StatusCode != 200 {
		h.t.Fatalf("%d %s %v", resp.StatusCode, b, err)
	}
	return string(b)
}

// TestStand lives a day over the wire: taps that come twice, the desk at the same time,
// what can't be, the planning beside it, and the server killed and started again.
func TestStand(t *testing.T) {
	h := home(t, "2027-03-05")
	before := h.state()
	day := before.Days[slices.IndexFunc(before.Days, func(d stand.Day) bool { return d.Date == before.Today })]
	numbers := map[string]int{}
	for _, l := range day.Lines {
		numbers[l.ID] = l.Number
	}
	sheet := h.numbered(model.NewDate(2027, time.March, 5))
	harbour, last := sheet[2], sheet[5]
	if harbour != "lantern/harbour/12-28/visit-2" || last == "" || numbers[harbour] != 2 || numbers[last] != 5 {
		t.Fatalf("%v", numbers)
	}
	done := `{"id":"phone-aa","unseen":1,"kind":"done","date":"2027-03-05","session":"` + harbour + `","minutes":14,"tempo":84}`
	off := `{"id":"phone-bb","unseen":1,"kind":"not-done","date":"2027-03-05","session":"` + last + `"}`
	const found = `{"id":"phone-cc","unseen":1,"kind":"found","date":"2027-03-05","part":"lantern/harbour","bars":"31-34","hard":3}`
	// Two phones and the desk at once.
	var all sync.WaitGroup
	for _, do := range []func(){func() { h.sends(done) }, func() { h.sends(done + "," + off) }, func() { h.sends(done + "," + off + "," + found) },
		func() { does(t, h.dir, "record", "4") }} {
		all.Add(1)
		go func() {
			defer all.Done()
			do()
		}()
	}
	all.Wait()
	if n := len(entriesOf(t, h.dir)); n != 4 {
		t.Errorf("%d entries of four", n)
	}
	for tap, want := range map[string]string{
		strings.Replace(found, "phone-cc", "phone-dd", 1):                                                 "are a passage of lantern/harbour already",
		strings.Replace(found, "phone-cc", "phone-dd", 1) + "," + found:                                   `"kept":["phone-cc"]`,
		strings.Replace(strings.Replace(done, "phone-aa", "phone-dd", 1), "2027-03-05", "2027-03-07", 1):  "lies ahead",
		strings.Replace(strings.Replace(done, "phone-aa", "phone-dd", 1), "2027-03-05", "2026-03-05", 1):  "outside the season",
		strings.Replace(strings.Replace(found, "phone-cc", "phone-dd", 1), "lantern/harbour", "no/pe", 1): "is no part of the season",
		`{"id":"phone-dd","unseen":1,"kind":"undo","undoes":"phone-zz"}`:                                  "no such entry",
	} {
		if got := h.sends(tap); !strings.Contains(got, want) {
			t.Errorf("%s: %s, want %s", tap, got, want)
		}
	}
	// The plan is made anew beside it, and the day that was shown keeps its numbers.
	after := h.state()
	for after.Planning || after.Changed == nil {
		time.Sleep(50 * time.Millisecond)
		after = h.state()
	}
	if after.Trouble != "" || !strings.HasPrefix(after.Changed.Lines[0], "Planned anew. Of ") || after.Unseen != 5 {
		t.Errorf("%+v", after)
	}
	day = after.Days[slices.IndexFunc(after.Days, func(d stand.Day) bool { return d.Date == after.Today })]
	for _, l := range day.Lines {
		if l.ID != "" && l.Number != numbers[l.ID] {
			t.Errorf("%s has number %d, and had %d", l.ID, l.Number, numbers[l.ID])
		}
		if l.ID == harbour && (l.Said == nil || *l.Said != stand.Said{Kind: model.Done, Minutes: 14, Tempo: 84, Entry: "phone-aa"}) {
			t.Errorf("%+v", l.Said)
		}
	}
	if len(day.Also) != 1 || day.Also[0].ID != last || day.Also[0].Said.Kind != model.NotDone || len(day.Found) != 1 {
		t.Errorf("also %+v, found %+v", day.Also, day.Found)
	}
	for _, e := range entriesOf(t, h.dir) {
		if e.ID == "phone-aa" && (e.Planned != 10 || e.Unseen != 1) {
			t.Errorf("%+v", e)
		}
	}
	// Killed, and started again at the same address: what comes in again is known.
	was := h.address
	h.kill()
	h.start()
	if got := h.sends(done + "," + off + "," + found); h.address != was || !strings.Contains(got, `"kept":["phone-aa","phone-bb","phone-cc"]`) || len(entriesOf(t, h.dir)) != 4 {
		t.Errorf("%s, %s", got, h.address)
	}
	// Pain keeps what stood on the days after it, and takes the day.
	h.sends(`{"id":"phone-ee","unseen":5,"kind":"pain","date":"2027-03-05"}`)
	if e := entriesOf(t, h.dir); len(e) != 5 || len(e[4].Stood) < 10 {
		t.Errorf("%+v", e)
	}
	if s := h.state(); !slices.ContainsFunc(s.Days, func(d stand.Day) bool { return d.Pain == "phone-ee" }) {
		t.Errorf("%+v", s.Days)
	}
	if _, err := os.Stat(filepath.Join(h.dir, "season.stand")); err != nil {
		t.Error(err)
	}
}

func TestMatters(t *testing.T) {
	events := []model.Event{{Entry: 1, Kind: model.Done}, {Entry: 2, Kind: model.Pain}}
	for _, c := range []struct {
		e    model.Event
		want bool
	}{{model.Event{Kind: model.Done, Planned: 10}, false}, {model.Event{Kind: model.Done}, true}, {model.Event{Kind: model.NotDone, Planned: 10}, true},
		{model.Event{Kind: model.Undo, Undoes: 1}, false}, {model.Event{Kind: model.Undo, Undoes: 2}, true}} {
		if got := matters(events, &c.e); got != c.want {
			t.Errorf("%+v: %v", c.e, got)
		}
	}
}

// Each module of the code stands where it belongs, dark where it is dark, with a light
// margin of four modules around it.
func TestCodeLines(t *testing.T) {
	code, err := qr.Encode("http://192.168.178.123:8348/4NsrnaGJrkMUqZPCZiwGzS9slez_wj24qqvHRpC1xUs/", qr.L)
	if err != nil {
		t.Fatal(err)
	}
	var rows [][]bool
	for _, line := range codeLines(code) {
		var above, below []bool
		for _, r := range line {
			above, below = append(above, r == '█' || r == '▀'), append(below, r == '█' || r == '▄')
		}
		rows = append(rows, above, below)
	}
	for y := range rows {
		for x, dark := range rows[y] {
			inside := x >= 4 && y >= 4 && x < 4+code.Size && y < 4+code.Size
			if dark != (inside && code.Black(x-4, y-4)) {
				t.Fatalf("module %d, %d", x-4, y-4)
			}
		}
	}
	if w := len(rows[0]); w != code.Size+8 || w > 80 {
		t.Errorf("%d columns", w)
	}
}

func TestAddresses(t *testing.T) {
	if got := addresses(&net.TCPAddr{IP: net.IPv4(127, 0, 0, 1), Port: 8}, onOwnNetwork); !slices.Equal(got, []string{"127.0.0.1:8"}) {
		t.Error(got)
	}
	for name, willDo := range map[string]func(net.IP) bool{"own": onOwnNetwork, "any": anywhere} {
		for _, at := range addresses(&net.TCPAddr{Port: 8}, willDo) {
			host, _, err := net.SplitHostPort(at)
			if ip := net.ParseIP(host); err != nil || host != "localhost" && (ip == nil || ip.To4() == nil || name == "own" && !onOwnNetwork(ip)) {
				t.Error(name, at)
			}
		}
	}
	if got := addresses(&net.TCPAddr{Port: 8}, func(net.IP) bool { return false }); !slices.Equal(got, []string{"localhost:8"}) {
		t.Error(got)
	}
}

// On a terminal without colour the address and the code are printed, one below the other.
func TestSayAddress(t *testing.T) {
	var out, errs bytes.Buffer
	a := &app{say: newVoice(&out, &errs)}
	a.say.width = 80
	e := &entrance{a: a, season: "season.yaml", key: "key", hosts: []string{"192.168.1.5:8348", "10.0.0.2:8348"}}
	t.Setenv("JOURNAL_STREAM", "")
	e.say("season.stand")
	if s := out.String(); !strings.HasPrefix(s, "http://192.168.1.5:8348/key/\n ") || !strings.Contains(s, "█") || !strings.Contains(errs.String(), "or http://10.0.0.2:8348/key/") {
		t.Errorf("%s%s", s, &errs)
	}
}

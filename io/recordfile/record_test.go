package recordfile

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"primaprova/model"
)

var (
	evening = time.Date(2027, time.March, 3, 21, 10, 0, 0, time.FixedZone("", 3600))
	day     = model.NewDate(2027, time.March, 3)
)

const visit = "tide/slate/45-61/visit-2"

// oneOfEach has an event of every kind.
func oneOfEach() []model.Event {
	return []model.Event{
		{Kind: model.Done, Date: day, Session: visit, Planned: 10, Took: 15},
		{Kind: model.NotDone, Date: day, Session: "tide/slate/listening", Planned: 30, Note: "no <head>phones\n& no time"},
		{Kind: model.DidNotHold, Date: day, Session: "tide/slate/45-61/visit-4", Planned: 5},
		{Kind: model.Done, Date: day, Session: "tide/slate/45-61/visit-3", Tempo: 84},
		{Kind: model.Found, Date: day, Part: "tide/slate", Bars: "90-99", Hard: 3, Exposed: true, Due: day + 5},
		{Kind: model.Found, Date: day, Part: "tide/slate", Bars: "101-104", Hard: 2, Heard: true, Tempo: 96},
		{Kind: model.NotNeeded, Date: day, Passage: "tide/slate/1-4"},
		{Kind: model.DayLost, Date: day + 1, Note: "a cold"},
		{Kind: model.Pain, Date: day + 2},
	}
}

// giving appends the events given, whatever the record holds.
func giving(events ...model.Event) func(*Record) ([]model.Event, error) {
	return func(*Record) ([]model.Event, error) { return slices.Clone(events), nil }
}

func mustAppend(t testing.TB, path string, events ...model.Event) *Record {
	t.Helper()
	r, _, err := Append(path, evening, giving(events...))
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestAppendAndRead(t *testing.T) {
	path := filepath.Join(t.TempDir(), "season.record.jsonl")
	if r, err := Read(path); err != nil || len(r.Events) != 0 || r.Last != 0 {
		t.Fatalf("no file: %+v, %v", r, err)
	}
	mustAppend(t, path, oneOfEach()...)
	mustAppend(t, path, model.Event{Kind: model.Undo, Undoes: 1})
	r, err := Read(path)
	if err != nil {
		t.Fatal(err)
	}
	want := append(oneOfEach(), model.Event{Kind: model.Undo, Undoes: 1})
	for i := range want {
		want[i].Entry, want[i].At = 1+i/len(oneOfEach()), evening
		if !r.Events[i].At.Equal(evening) {
			t.Errorf("recorded at %v", r.Events[i].At)
		}
		r.Events[i].At = evening
	}
	if !reflect.DeepEqual(r.Events, want) || r.Last != 2 {
		t.Errorf("read\n%+v\nwant\n%+v", r.Events, want)
	}
}

// TestOnlyGrows: whatever is appended, what stood before stays, byte for byte.
func TestOnlyGrows(t *testing.T) {
	path := filepath.Join(t.TempDir(), "r")
	var before []byte
	for n := range 5 {
		mustAppend(t, path, oneOfEach()[n:]...)
		now, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.HasPrefix(now, before) || len(now) == len(before) {
			t.Fatalf("what stood before has changed:\n%s\nbefore\n%s", now, before)
		}
		before = now
	}
}

func TestRefusedIsNotWritten(t *testing.T) {
	path := filepath.Join(t.TempDir(), "r")
	mustAppend(t, path, oneOfEach()...)
	before, _ := os.ReadFile(path)
	if _, _, err := Append(path, evening, giving(oneOfEach()[0], model.Event{Kind: model.Done, Date: day})); err == nil {
		t.Error("an event without a session was taken")
	}
	no := errors.New("no")
	if _, _, err := Append(path, evening, func(*Record) ([]model.Event, error) { return nil, no }); !errors.Is(err, no) {
		t.Errorf("error %v", err)
	}
	if now, _ := os.ReadFile(path); !bytes.Equal(now, before) {
		t.Errorf("something was written: %s", now)
	}
}

// TestPowerCut cuts a record off after every byte: the entries that are whole
// count, nothing else does, and (tried at every fifth byte, and where entries end)
// recording goes on.
func TestPowerCut(t *testing.T) {
	dir := t.TempDir()
	whole := filepath.Join(dir, "whole")
	var ends []int // size of the file after each entry
	for _, events := range [][]model.Event{oneOfEach()[:1], oneOfEach()[1:4], oneOfEach()[4:]} {
		mustAppend(t, whole, events...)
		info, err := os.Stat(whole)
		if err != nil {
			t.Fatal(err)
		}
		ends = append(ends, int(info.Size()))
	}
	data, err := os.ReadFile(whole)
	if err != nil {
		t.Fatal(err)
	}
	head := len(`{"format":"primaprova/record/1"}`)
	for cut := range len(data) + 1 {
		for _, garbage := range []string{"", "\x00\x00\x00"} {
			text := append(slices.Clone(data[:cut]), garbage...)
			path := filepath.Join(dir, fmt.Sprintf("cut-%d-%d", cut, len(garbage)))
			if err := os.WriteFile(path, text, 0o644); err != nil {
				t.Fatal(err)
			}
			entries := 0
			for _, end := range ends {
				// Without its newline the last line is whole all the same, unless
				// something follows on it.
				if cut >= end || cut == end-1 && garbage == "" {
					entries++
				}
			}
			r, err := Read(path)
			if err != nil {
				t.Fatalf("cut at %d: %v", cut, err)
			}
			if r.Last != entries && r.Broken == nil || lastOf(r.Events) != entries {
				t.Fatalf("cut at %d: %d entries, want %d", cut, lastOf(r.Events), entries)
			}
			if clean := garbage == "" && (cut == 0 || cut == head || cut == head+1 || slices.Contains(ends, cut) || slices.Contains(ends, cut+1)); clean != (r.Broken == nil) {
				t.Fatalf("cut at %d (%q): broken: %v", cut, garbage, r.Broken)
			}
			if cut%5 > 0 && !slices.Contains(ends, cut) && !slices.Contains(ends, cut+1) {
				continue
			}
			before := len(r.Events)
			after := mustAppend(t, path, oneOfEach()[0])
			if len(after.Events) != before+1 || after.Broken != nil {
				t.Fatalf("cut at %d: %d events after an append, want %d; broken: %v", cut, len(after.Events), before+1, after.Broken)
			}
			again := mustAppend(t, path, oneOfEach()[1:3]...)
			if len(again.Events) != before+3 {
				t.Fatalf("cut at %d: %d events after two appends, want %d", cut, len(again.Events), before+3)
			}
			if now, _ := os.ReadFile(path); !bytes.HasPrefix(now, text) {
				t.Fatalf("cut at %d: what stood there was not left alone", cut)
			}
		}
	}
}

func lastOf(events []model.Event) int {
	if len(events) == 0 {
		return 0
	}
	return events[len(events)-1].Entry
}

func TestFaults(t *testing.T) {
	const (
		head = `{"format":"primaprova/record/1"}` + "\n"
		at   = `"at":"2027-03-03T21:10:00+01:00"`
		good = `{"entry":1,` + at + `,"kind":"day-lost","date":"2027-03-03"}` + "\n"
		next = `{"entry":2,` + at + `,"kind":"day-lost","date":"2027-03-04"}` + "\n"
	)
	for _, c := range []struct {
		name, text string
		want       []string
	}{
		{"no head", good, []string{`r:1: the first line is not {"format":"primaprova/record/1"}`}},
		{"another version", `{"format":"primaprova/record/7"}` + "\n" + good, []string{`r:1: format: "primaprova/record/7": this program reads`}},
		{"unknown key", head + strings.Replace(good, "date", "dat", 1) + next, []string{`r:2: unknown field "dat"`}},
		{"wrong kind of value", head + strings.Replace(good, `"2027-03-03"}`, `3}`, 1) + next, []string{`r:2: date: a number is not`}},
		{"broken in the middle", head + good[:20] + "\n" + next, []string{`r:2: is no JSON object`}},
		{"no such kind", head + strings.Replace(good, "day-lost", "holiday", 1) + next, []string{`r:2: kind: "holiday"`}},
		{"no time", head + strings.Replace(good, at+",", "", 1) + next, []string{`r:2: at: `}},
		{"entry not rising", head + good + good, []string{`r:3: entry: 1: is not above 1`}},
		{"entry without its end", head + strings.Replace(good, "}", `,"more":true}`, 1) + next, []string{`r:3: entry: 2: entry 1 has not ended`}},
		{"undo of what is to come", head + good + `{"entry":2,` + at + `,"kind":"undo","undoes":2}` + "\n" + strings.Replace(next, "2", "3", 1), []string{`r:3: undoes: 2: `}},
		{"all at once", head + strings.Replace(good, "day-lost", "holiday", 1) + strings.Replace(next, "day-lost", "done", 1) + next,
			[]string{"r:2: kind", "r:3: session"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := decode("r", []byte(c.text))
			var faults Error
			if !errors.As(err, &faults) {
				t.Fatalf("error %v", err)
			}
			for _, want := range c.want {
				if !strings.Contains(err.Error(), want) {
					t.Errorf("said\n%v\nwant %q", err, want)
				}
			}
		})
	}
}

// TestMain lets the tests below start this program again as one that records.
func TestMain(m *testing.M) {
	if path := os.Getenv("RECORD_INTO"); path != "" {
		for n := 0; ; n++ {
			if _, _, err := Append(path, evening, giving(oneOfEach()...)); err != nil {
				fmt.Fprintln(os.Stderr, err)
				os.Exit(1)
			}
			if os.Getenv("RECORD_ENDLESSLY") == "" && n == 39 {
				os.Exit(0)
			}
		}
	}
	os.Exit(m.Run())
}

func recorder(t *testing.T, path string, env ...string) *exec.Cmd {
	t.Helper()
	c := exec.Command(os.Args[0])
	c.Env = append(append(os.Environ(), "RECORD_INTO="+path), env...)
	c.Stderr = os.Stderr
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	return c
}

// TestTwoProcesses: two that record at once lose and spoil nothing.
func TestTwoProcesses(t *testing.T) {
	path := filepath.Join(t.TempDir(), "r")
	a, b := recorder(t, path), recorder(t, path)
	if err := errors.Join(a.Wait(), b.Wait()); err != nil {
		t.Fatal(err)
	}
	r, err := Read(path)
	if err != nil {
		t.Fatal(err)
	}
	if r.Last != 80 || len(r.Events) != 80*len(oneOfEach()) || r.Broken != nil {
		t.Errorf("%d entries, %d events, broken: %v", r.Last, len(r.Events), r.Broken)
	}
}

// TestKilled: a recording process is killed at random moments; each entry is
// there whole or not at all, and recording goes on.
func TestKilled(t *testing.T) {
	path := filepath.Join(t.TempDir(), "r")
	rng := rand.New(rand.NewPCG(1, 2))
	entries := 0
	for n := 0; n < 40 || entries == 0; n++ { // else the test shows nothing
		c := recorder(t, path, "RECORD_ENDLESSLY=1")
		time.Sleep(time.Duration(5+rng.IntN(25)) * time.Millisecond)
		if err := c.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		c.Wait() //nolint:errcheck // it was killed
		r, err := Read(path)
		if err != nil {
			t.Fatal(err)
		}
		if len(r.Events)%len(oneOfEach()) != 0 || len(r.Events) < entries {
			t.Fatalf("%d events: an entry in part, or fewer than %d", len(r.Events), entries)
		}
		entries = len(r.Events)
	}
}

// FuzzRead: any bytes are read or refused with a reason; what is read goes on
// when appended to, and loses no event.
func FuzzRead(f *testing.F) {
	var b bytes.Buffer
	r := &Record{}
	events := oneOfEach()
	for i := range events {
		events[i].Entry, events[i].At = 1, evening
	}
	text, err := r.encode(events, evening)
	if err != nil {
		f.Fatal(err)
	}
	b.Write(text)
	f.Add(b.Bytes())
	f.Add(b.Bytes()[:b.Len()/2])
	f.Add([]byte(`{"format":"primaprova/record/1"}` + "\n" + `{"entry":1,"kind":"set-aside","from":1,"to":9}`))
	f.Add([]byte("\x00\n{}\n[]"))
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := decode("r", data)
		if err != nil {
			if err.Error() == "" {
				t.Fatal("refused without a reason")
			}
			return
		}
		add := []model.Event{{Entry: r.next(), At: evening, Kind: model.DayLost, Date: day}}
		more, err := r.encode(add, evening)
		if err != nil {
			t.Fatal(err)
		}
		if len(data) > 0 && data[len(data)-1] != '\n' {
			data = append(data, '\n')
		}
		after, err := decode("r", append(data, more...))
		if err != nil {
			t.Fatalf("%v\nafter\n%q\nand\n%s", err, data, more)
		}
		if len(after.Events) != len(r.Events)+1 {
			t.Fatalf("%d events became %d", len(r.Events), len(after.Events))
		}
	})
}

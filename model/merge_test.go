package model

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

const tapped = "tide/slate/45-61/visit-2"

func tap(id string, unseen int, kind EventKind, took Minutes) Tap {
	return Tap{Event: Event{ID: id, Unseen: unseen, Kind: kind, Date: NewDate(2027, 3, 3), Session: tapped, Planned: 10, Took: took}}
}

// atDesk is what a terminal appends: it knows all above it.
func atDesk(events []Event, kind EventKind) []Event {
	return append(events, Event{Entry: len(events) + 1, Kind: kind, Date: NewDate(2027, 3, 3), Session: tapped, Planned: 10})
}

func counts(t *testing.T, events []Event, want string) {
	t.Helper()
	var got []string
	for _, e := range Counting(Standing(events)) {
		got = append(got, fmt.Sprintf("%s %d", e.Kind, e.Took))
	}
	if s := strings.Join(got, ", "); s != want {
		t.Errorf("%s counts, want %s", s, want)
	}
}

func merged(t *testing.T, events []Event, taps ...Tap) []Event {
	t.Helper()
	add, arrivals := Merge(events, len(events)+1, taps)
	for _, a := range arrivals {
		if a.Why != "" {
			t.Errorf("%s: %s", a.ID, a.Why)
		}
	}
	return append(slices.Clone(events), add...)
}

func TestWhatCounts(t *testing.T) {
	// "record all" at the desk knew nothing of the phone's "did not hold".
	counts(t, merged(t, atDesk(nil, Done), tap("phone-aa", 1, DidNotHold, 0)), "did-not-hold 0")
	// It did, once that had come in.
	counts(t, atDesk(merged(t, nil, tap("phone-aa", 1, DidNotHold, 0)), Done), "done 0")
	// "Not today" on the phone, then played and recorded at the desk, in either order of arrival.
	counts(t, merged(t, atDesk(nil, Done), tap("phone-aa", 1, NotDone, 0)), "done 0")
	counts(t, atDesk(merged(t, nil, tap("phone-aa", 1, NotDone, 0)), Done), "done 0")
	// A phone that knew the line says otherwise.
	counts(t, merged(t, atDesk(nil, Done), tap("phone-aa", 2, NotDone, 0)), "not-done 0")
	// Two phones, both done: the longer; as long: the lesser id.
	counts(t, merged(t, nil, tap("phone-aa", 1, Done, 12), tap("phone-bb", 1, Done, 17)), "done 17")
	counts(t, merged(t, nil, tap("phone-aa", 1, Done, 9), tap("phone-bb", 1, Done, 0)), "done 0") // as planned: 10
	// An undo takes back what it names and no more.
	undo := Tap{Event: Event{ID: "phone-cc", Unseen: 3, Kind: Undo}, TakesBack: "phone-bb"}
	two := merged(t, nil, tap("phone-aa", 1, Done, 12), tap("phone-bb", 1, DidNotHold, 0))
	counts(t, two, "did-not-hold 0")
	counts(t, merged(t, two, undo), "done 12")
	undo.TakesBack = "1"
	counts(t, merged(t, two, undo), "did-not-hold 0")
}

// A phone can't have known lines that are not there yet: what it says of that is cut off.
func TestMergeKnowsNothingAhead(t *testing.T) {
	events := merged(t, merged(t, nil, tap("phone-aa", 99, Done, 12)), tap("phone-bb", 99, NotDone, 0))
	for i := range events {
		if e := &events[i]; e.Unseen != e.Entry {
			t.Errorf("entry %d has unseen %d", e.Entry, e.Unseen)
		}
	}
	counts(t, events, "not-done 0")
}

func TestMergeRefuses(t *testing.T) {
	events := merged(t, nil, tap("phone-aa", 1, Done, 12))
	for want, tap := range map[string]Tap{
		"entry 1 has it, and says something else": tap("phone-aa", 1, Done, 13),
		"the record has no such entry":            {Event: Event{ID: "phone-bb", Unseen: 1, Kind: Undo}, TakesBack: "phone-zz"},
		"is not a letter and 7 to 63":             tap("1234567", 1, Done, 12),
		"needs one":                               tap("", 1, Done, 12),
		"is no kind of event":                     {Event: Event{ID: "phone-bb", Unseen: 1, Kind: "eaten"}},
	} {
		add, out := Merge(events, 2, []Tap{tap})
		if len(add) != 0 || len(out) != 1 || !strings.Contains(out[0].Why, want) {
			t.Errorf("%v, %v; want %s", add, out, want)
		}
	}
}

// The same taps, in whatever order they come in and however often, add each of them
// once, and the same lines count.
func TestMergeInAnyOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		desk := atDesk(nil, rapid.SampledFrom([]EventKind{Done, NotDone}).Draw(t, "desk"))
		var taps []Tap
		for i := range rapid.IntRange(1, 8).Draw(t, "taps") {
			id := fmt.Sprintf("phone-%02d", i)
			if i > 0 && rapid.IntRange(0, 3).Draw(t, "undo") == 0 {
				taps = append(taps, Tap{Event: Event{ID: id, Unseen: 2, Kind: Undo}, TakesBack: taps[rapid.IntRange(0, i-1).Draw(t, "takes back")].ID})
				continue
			}
			taps = append(taps, tap(id, rapid.IntRange(1, 2).Draw(t, "unseen"), rapid.SampledFrom([]EventKind{Done, NotDone, DidNotHold}).Draw(t, "kind"), Minutes(rapid.IntRange(0, 2).Draw(t, "took"))))
		}
		come := func(name string) []Event {
			events := slices.Clone(desk)
			for range 20 * len(taps) {
				// A phone sends what is not answered, oldest first: always a beginning of its taps.
				n := rapid.IntRange(1, len(taps)).Draw(t, name)
				add, arrivals := Merge(events, len(events)+1, taps[:n])
				for _, a := range arrivals {
					if a.Why != "" {
						t.Fatal(a)
					}
				}
				if events = append(events, add...); len(events) == 1+len(taps) {
					break
				}
			}
			add, _ := Merge(events, len(events)+1, taps)
			return append(events, add...)
		}
		// Without undos any order may be had.
		shuffled := func() []Event {
			events := slices.Clone(desk)
			for _, i := range rapid.Permutation(seq(len(taps))).Draw(t, "order") {
				if taps[i].Kind != Undo {
					add, _ := Merge(events, len(events)+1, taps[i:i+1])
					events = append(events, add...)
				}
			}
			for i := range taps {
				add, _ := Merge(events, len(events)+1, taps[i:i+1])
				events = append(events, add...)
			}
			return events
		}
		key := func(events []Event) string {
			if len(events) != 1+len(taps) {
				t.Fatalf("%d events of %d taps", len(events), len(taps))
			}
			var out []string
			for _, e := range Counting(Standing(events)) {
				out = append(out, e.ID)
			}
			return strings.Join(out, " ")
		}
		if a, b, c := key(come("first")), key(come("second")), key(shuffled()); a != b || a != c {
			t.Fatalf("%q, %q and %q count", a, b, c)
		}
	})
}

func seq(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

// What is heard leaves the read-through to be done, and its tempo is the goal.
func TestHeard(t *testing.T) {
	s, _ := fixture()
	part := PartName(s.Programmes[0].ID, s.Programmes[0].Parts[0].ID)
	on := s.Programmes[0].Parts[0].Arrives
	found := Event{Entry: 1, Kind: Found, Date: on, Part: part, Bars: "90-99", Hard: 2, Tempo: 96}
	for _, heard := range []bool{false, true} {
		found.Heard = heard
		h, remarks := s.Replay([]Event{found}, nil, Replaying{Today: on + 1})
		if len(remarks) > 0 || (h.Met[part] == 0) != heard || h.Found[part][0].Tempo.Goal != 96 {
			t.Errorf("heard %v: %v, met %v, %v", heard, remarks, h.Met[part], h.Found[part])
		}
	}
}

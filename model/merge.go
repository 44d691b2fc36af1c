package model

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
)

// What is recorded away from the record, on a phone in a pocket, comes in later:
// twice where an answer was lost, from several phones, in any order, beside what
// was recorded at the desk. The rule stands in docs/meaning.md, section 7.5:
//
//   - an entry made away has an id of its own, and is added once;
//   - of lines about one session of one day those don't count that another knew;
//   - of what is left, said in places that did not know of each other,
//     did-not-hold counts before done, done before not-done: what was played was
//     played, and what failed is not lost to a line that knew nothing of it;
//   - an undo takes back the entry that it names.
//
// What was held against it before it was built, and what becomes of it:
//
//   - The answer is lost, everything is sent again: the ids are known, nothing is added.
//   - A power cut leaves half of what came in: whole lines count and their ids are
//     known, the broken one is set aside and sent again, for it was never answered.
//   - In the evening "record all" at the desk, before the phone brings "did not
//     hold" of noon: by the time of arrival, or by any clock, "done" would win, and
//     the check that failed would be lost. Here neither knew of the other, so
//     did-not-hold counts. Who means it otherwise says so once more, and that line knows both.
//   - "Not today" on the phone at noon, played in the evening and recorded at the
//     desk, and only then the phone comes home: done counts, in either order.
//   - A phone's clock is wrong, or its zone another: no clock decides anything.
//   - A counter in each tap, as logs that merge often have, would let the phone win
//     that was tapped more often; so there is none.
//   - One phone takes back what another has corrected meanwhile: the correction stands.
//   - An undo comes in before what it takes back: a phone sends all that is not yet
//     answered, oldest first, so what it names is there or comes with it.
//   - The record was put back from an old copy, and numbers mean other entries: a
//     line may then be thought to know what it did not. Nothing is lost, a word counts
//     that its player may have to say again.
//   - An id is used twice for different things, by a fault or on purpose: the second
//     is refused, and whoever sent it is told.

// entryID is what the id of an entry looks like: never like its number.
var entryID = regexp.MustCompile(`^[A-Za-z][0-9A-Za-z-]{7,63}$`)

// knows tells whether whoever recorded x, which stands below y, knew y.
func (x *Event) knows(y *Event) bool {
	return x.Unseen == 0 || y.Entry < x.Unseen || y.Entry == x.Entry
}

// care ranks what places say that did not know of each other.
var care = map[EventKind]int{NotDone: 1, Done: 2, DidNotHold: 3}

// prevails compares two lines of which neither knows the other: positive where a counts.
func prevails(a, b *Event) int {
	return cmp.Or(cmp.Compare(care[a.Kind], care[b.Kind]), cmp.Compare(cmp.Or(a.Took, a.Planned), cmp.Or(b.Took, b.Planned)), cmp.Compare(b.ID, a.ID))
}

// Counting gives of the events that hold (Standing) those that count: of several
// about one session of one day a single one. Their order is that of the record.
func Counting(live []Event) []Event {
	said := map[SessionDay][]int{}
	for i := range live {
		if live[i].Session != "" {
			said[live[i].Key()] = append(said[live[i].Key()], i)
		}
	}
	out := make([]Event, 0, len(live))
	for i := range live {
		if e := &live[i]; e.Session == "" || countsOf(live, said[e.Key()]) == i {
			out = append(out, *e)
		}
	}
	return out
}

// countsOf gives which of the lines about one session of one day counts.
func countsOf(live []Event, lines []int) int {
	best := -1
	for n, i := range lines {
		if slices.ContainsFunc(lines[n+1:], func(j int) bool { return live[j].knows(&live[i]) }) {
			continue
		}
		if best < 0 || prevails(&live[i], &live[best]) > 0 {
			best = i
		}
	}
	return best
}

// A Tap is an entry of one line that was made away from the record. Its ID and
// Unseen are set; Entry, At and Undoes are given when it comes in.
type Tap struct {
	Event
	TakesBack string // undo: the id or the number of the entry
}

// Arrival is what became of a tap.
type Arrival struct {
	ID  string
	Why string // why it can't be kept; empty: the record has it, now or from before
}

// Merge gives what taps add to a record of these events, each an entry of its own,
// numbered from first on. The same taps, in whatever order and however often they
// come in, add each of them once.
func Merge(events []Event, first int, taps []Tap) (add []Event, out []Arrival) {
	known := map[string]*Event{}
	numbers := map[int]bool{}
	for i := range events {
		numbers[events[i].Entry] = true
		if events[i].ID != "" && known[events[i].ID] == nil {
			known[events[i].ID] = &events[i]
		}
	}
	add = make([]Event, 0, len(taps)) // never moved: known points into it
	for _, t := range taps {
		e := t.Event
		e.Entry, e.Undoes = first+len(add), 0
		e.Unseen = min(max(e.Unseen, 1), first)
		why := ""
		if e.Kind == Undo {
			if o := known[t.TakesBack]; o != nil {
				e.Undoes = o.Entry
			} else if n, err := strconv.Atoi(t.TakesBack); err == nil && numbers[n] {
				e.Undoes = n
			} else {
				why = fmt.Sprintf("undoes: %q: the record has no such entry", t.TakesBack)
			}
		}
		if o := known[e.ID]; o != nil {
			if why == "" && !o.sameAs(&e) {
				why = fmt.Sprintf("id: %q: entry %d has it, and says something else", e.ID, o.Entry)
			} else {
				why = ""
			}
			out = append(out, Arrival{e.ID, why})
			continue
		}
		if why == "" && e.ID == "" {
			why = `id: "": what is recorded away needs one`
		} else if faults := e.Check(); why == "" && len(faults) > 0 {
			why = faults[0]
		}
		if out = append(out, Arrival{e.ID, why}); why == "" {
			add = append(add, e)
			known[e.ID] = &add[len(add)-1]
			numbers[e.Entry] = true
		}
	}
	return add, out
}

// sameAs tells whether two entries say the same, whenever they came in. What stood
// on days is filled in when an entry comes in, and may have changed.
func (e *Event) sameAs(o *Event) bool {
	return e.Kind == o.Kind && e.Date == o.Date && e.Session == o.Session && e.Took == o.Took && e.Part == o.Part &&
		e.Bars == o.Bars && e.Hard == o.Hard && e.Exposed == o.Exposed && e.Heard == o.Heard && e.Tempo == o.Tempo && e.Undoes == o.Undoes && e.Note == o.Note
}

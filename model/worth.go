package model

// What a session is worth: what leaving it out costs in coverage. The values
// decide what is let go of when not everything fits, so they have to say of any
// two kinds of session which goes first.
//
// A visit that fits nowhere takes minutes, and what makes room for it gives
// minutes. So worth is counted by the minute: otherwise six short visits that
// nobody would miss would outweigh the one long solo that everybody hears. What
// is worth more by the minute is kept before what is worth less, whatever their
// lengths, as far as minutes can be exchanged at all: days, gaps and the length
// of the piece that is let go of set limits to that. The defaults are therefore
// well apart where one kind must give way to another. In points for five
// minutes, from what goes last to what goes first:
//
//	read-through                         250
//	first visits     40 × (1..3, +2)     40..200
//	second visits    12 × (1..3, +2)     12..60
//	third visits      3 × (1..3, +2)      3..15
//	later visits      2, 1 × (1..3, +2)   1..10
//
// with the difficulty in brackets, and what being exposed adds to it. So:
//
//   - A part unread is worse than anything: 250 > 200.
//   - All once before any a third time: the dullest first visit (40) outweighs
//     the hardest exposed third one with all that comes after it (15, and some 13
//     more of later days). So neither a part nor a passage is starved to perfect
//     another.
//   - Exposed passages get their first visit and their second (36 at least)
//     before easy ones get their last (3).
//   - Nothing that is not exposed is worked at twice (36 at most) while anything
//     waits for its first visit (40). An exposed passage may be: worked at once
//     and never again it will not stay.
//   - Of two visits of one kind the harder and the exposed passage's stays.
//   - A passage's later visits count less than its earlier ones.
//
// All of this is common practice, no source. triage_test.go in package solver
// holds it claim by claim.

// worth gives what so many minutes are worth at so many points for five.
// Anything that is wanted and valued at all is worth a point. Lengths are whole
// steps of five as a rule, and nothing is rounded then.
func worth(points int, m Minutes) int {
	if points <= 0 || m <= 0 {
		return 0
	}
	return max(1, (points*int(m)+2)/5)
}

// StageWorth gives what leaving out a stage of so many minutes costs; nothing
// for a warm-up, which follows its day.
func (h *Habits) StageWorth(stage Stage, m Minutes) int {
	switch stage {
	case ListeningStage:
		return worth(h.ListenValue, m)
	case ReadStage:
		return worth(h.ReadValue, m)
	case RecordingsStage:
		return worth(h.RecordValue, m)
	}
	return 0
}

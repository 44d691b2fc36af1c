package instance

// Box is a set of a part's frames: those whose read-through lies on the days
// from read[0] to read[1], and whose first round ends on the days from phi[0] to
// phi[1]. A part that is not read through is in every box: what a box takes
// away is the choice of days, never the choice to leave out.
type Box struct{ Read, Phi [2]Day }

// AllFrames gives the box of all frames of a part. A first round that is over
// ends on the day before the part's first.
func (q *Part) AllFrames() Box {
	b := Box{[2]Day{Day(q.WinLo), Day(q.WinHi)}, [2]Day{Day(q.Lo - 1), Day(q.Hi)}}
	if q.ReadDone {
		b.Read = [2]Day{Before, Before}
	}
	return b
}

// Reads and ends tell whether the read-through may lie, and the first round end,
// on a day.
func (b Box) Reads(d int) bool { return int(b.Read[0]) <= d && d <= int(b.Read[1]) }

func (b Box) Ends(d int) bool { return int(b.Phi[0]) <= d && d <= int(b.Phi[1]) }

// Holds tells whether a frame is in a box.
func (b Box) Holds(f Frame) bool {
	return f.Read == None || b.Reads(int(f.Read)) && b.Ends(int(f.Phi))
}

// Axis is one of the two ways in which a box may be cut.
type Axis int

const (
	byRead Axis = iota
	byEnd
	Axes
)

// Days gives the days of a box along an axis.
func (b *Box) Days(by Axis) *[2]Day {
	if by == byEnd {
		return &b.Phi
	}
	return &b.Read
}

// Day gives the day of a frame along an axis.
func (f Frame) Day(by Axis) Day {
	if by == byEnd {
		return f.Phi
	}
	return f.Read
}

// Frame is what the passages of a part have in common: the days of its
// listening, read-through and return to the recordings, and the last day of
// its first round, which the return comes after. A day is none when the stage is left out (or not wanted),
// before when it was done earlier.
type Frame struct {
	Listen, Read, Rec, Phi Day
}

package solver

// box is a set of a part's frames: those whose read-through lies on the days
// from read[0] to read[1], and whose first round ends on the days from phi[0] to
// phi[1]. A part that is not read through is in every box: what a box takes
// away is the choice of days, never the choice to leave out.
type box struct{ read, phi [2]int16 }

// allFrames gives the box of all frames of a part. A first round that is over
// ends on the day before the part's first.
func (q *part) allFrames() box {
	b := box{[2]int16{int16(q.winLo), int16(q.winHi)}, [2]int16{int16(q.lo - 1), int16(q.hi)}}
	if q.readDone {
		b.read = [2]int16{before, before}
	}
	return b
}

// reads and ends tell whether the read-through may lie, and the first round end,
// on a day.
func (b box) reads(d int) bool { return int(b.read[0]) <= d && d <= int(b.read[1]) }

func (b box) ends(d int) bool { return int(b.phi[0]) <= d && d <= int(b.phi[1]) }

// holds tells whether a frame is in a box.
func (b box) holds(f frame) bool {
	return f.read == none || b.reads(int(f.read)) && b.ends(int(f.phi))
}

// axis is one of the two ways in which a box may be cut.
type axis int

const (
	byRead axis = iota
	byEnd
	axes
)

// days gives the days of a box along an axis.
func (b *box) days(by axis) *[2]int16 {
	if by == byEnd {
		return &b.phi
	}
	return &b.read
}

// day gives the day of a frame along an axis.
func (f frame) day(by axis) int16 {
	if by == byEnd {
		return f.phi
	}
	return f.read
}

// frame is what the passages of a part have in common: the days of its
// listening, read-through and return to the recordings, and the last day of
// its first round. A day is none when the stage is left out (or not wanted),
// before when it was done earlier.
type frame struct {
	listen, read, rec, phi int16
}

package model

// Shape is how a session is broken up: the minutes from its start to each of
// its rests, and to where it goes on.
type Shape struct {
	Pieces []Span // from its start; Clock counts minutes here
}

// Length gives the minutes from start to end.
func (h Shape) Length() Minutes { return Minutes(h.Pieces[len(h.Pieces)-1].To) }

// At gives the rests of a session of this shape that begins at a time.
func (h Shape) At(start Clock) (rests []Span) {
	for i, p := range h.Pieces[1:] {
		rests = append(rests, Span{start + h.Pieces[i].To, start + p.From})
	}
	return rests
}

// Shape gives the sensible way to break up a session: what is not played is
// whole, and so is what fits a block. Longer ones are as few pieces as go, as
// even as whole steps allow, the longer first, with a rest between that ends on
// the grid. A visit of a passage is thus unbroken unless it is longer than a
// block.
func (s *Season) Shape(v *Session) Shape {
	if !v.Stage.Playing() || v.Minutes <= s.Limits.Block {
		return Shape{[]Span{{0, Clock(v.Minutes)}}}
	}
	var out []Span
	block, step, at := s.Limits.Block, s.Habits.Step, Clock(0)
	for left := v.Minutes; left > 0; {
		n := (left + block - 1) / block
		even := (left + n - 1) / n
		piece := min(left, block, (even+step-1)/step*step)
		out = append(out, Span{at, at + Clock(piece)})
		at = ceil(at + Clock(piece) + Clock(s.Limits.BlockRest))
		left -= piece
	}
	return Shape{Touching(out)}
}

// Touching joins spans that touch.
func Touching(spans []Span) (out []Span) {
	for _, f := range spans {
		if n := len(out); n > 0 && out[n-1].To == f.From {
			out[n-1].To = f.To
		} else {
			out = append(out, f)
		}
	}
	return out
}

func ceil(c Clock) Clock { return (c + Grid - 1) / Grid * Grid }

// Place gives a session the hours of its shape from a start on.
func (s *Season) Place(v *Session, start Clock) {
	shape := s.Shape(v)
	ends := start + Clock(shape.Length())
	v.Start, v.Ends, v.Rests = &start, &ends, shape.At(start)
}

package model

// Free gives the spans of a date in which work may be planned: the free hours
// less the services. Spans come in order and do not touch.
func (s *Season) Free(d Date) []Span {
	return without(s.Hours.On(d), s.ServicesOn(d))
}

func without(spans []Span, services []Service) []Span {
	out := append([]Span(nil), spans...)
	for _, v := range services {
		from, to := v.Start, v.Start+Clock(v.Lasts)
		var next []Span
		for _, f := range out {
			if to <= f.From || f.To <= from {
				next = append(next, f)
				continue
			}
			if f.From < from {
				next = append(next, Span{f.From, from})
			}
			if to < f.To {
				next = append(next, Span{to, f.To})
			}
		}
		out = next
	}
	return out
}

// Blocks cuts the free spans into blocks of at most Limits.Block minutes with
// Limits.BlockRest between two blocks of one span. Blocks are whole steps long;
// what is shorter than a step is not kept.
func (s *Season) Blocks(free []Span) []Span {
	var out []Span
	block, rest, step := Clock(s.Limits.Block), Clock(s.Limits.BlockRest), Clock(s.Habits.Step)
	for _, f := range free {
		for at := f.From; f.To-at >= step; at += block + rest {
			if whole := min(block, f.To-at) / step * step; whole > 0 {
				out = append(out, Span{at, at + whole})
			}
		}
	}
	return out
}

// wholeSteps is the longest session that is never split over a rest, in steps.
const wholeSteps = 2

// held gives the minutes of planned work (warm-up, playing and listening
// together) that certainly fit the blocks of the day when they are laid out in
// order. Only a session of at most two steps can leave the end of a block
// unused, and only less than its own length: one step at most where all
// lengths are whole steps, else less than two. The last block needs no such
// allowance, since the session that does not fit it is itself longer than what
// is left there. So with blocks b1..bn and waste w
//
//	Held = Σ length − Σ over b1..bn−1 of min(w, length)
func (s *Season) held(d Date, services []Service) Minutes {
	waste := (wholeSteps - 1) * s.Habits.Step
	if !s.inSteps() {
		waste = wholeSteps*s.Habits.Step - 1
	}
	var sum, spare Minutes
	for _, b := range s.Blocks(without(s.Hours.On(d), services)) {
		sum += b.Length()
		spare = min(waste, b.Length())
		sum -= spare
	}
	return sum + spare
}

// inSteps tells whether the lengths that the season gives outright are whole
// steps; those of visits always are.
func (s *Season) inSteps() bool {
	step := s.Habits.Step
	if s.Limits.WarmUp%step != 0 {
		return false
	}
	for i := range s.Programmes {
		for j := range s.Programmes[i].Parts {
			p := &s.Programmes[i].Parts[j]
			if p.Listening%step != 0 || p.ReadThrough%step != 0 || p.Recordings%step != 0 {
				return false
			}
		}
	}
	return true
}

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
// Limits.BlockRest between two blocks of one span. Blocks shorter than a step
// are not kept.
func (s *Season) Blocks(free []Span) []Span {
	var out []Span
	block, rest, step := Clock(s.Limits.Block), Clock(s.Limits.BlockRest), Clock(s.Habits.Step)
	for _, f := range free {
		for at := f.From; f.To-at >= step; at += block + rest {
			out = append(out, Span{at, min(at+block, f.To)})
		}
	}
	return out
}

// Whole is the longest session that is never split over a rest, in steps.
const wholeSteps = 2

// held gives the minutes of planned work (warm-up, playing and listening
// together) that certainly fit the blocks of the day when they are laid out in
// order. Work longer than two steps may be split at a rest, the rest may not;
// so a block is left with at most one step unused before the next one is
// opened, and the sum over blocks of (length - one step) always fits.
func (s *Season) held(d Date, services []Service) Minutes {
	var sum Minutes
	for _, b := range s.Blocks(without(s.Hours.On(d), services)) {
		whole := b.Length() / s.Habits.Step * s.Habits.Step
		sum += max(0, whole-(wholeSteps-1)*s.Habits.Step)
	}
	return sum
}

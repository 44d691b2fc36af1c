package model

// The warm-up comes once a day, before the first planned playing. Whoever wants it
// (Limits.WarmUpAgain above 0) warms up again, shortly,
//
//	before a service that begins a long pause after the one before it on its day, or
//	is the day's first, and
//	after a long pause between playing and playing, where the hours of a day have one
//
// Both are common practice, no source, and so is how long a pause is long. What is
// played so counts like all playing. It is known from the season alone, so that no
// day that is planned can turn out to have no room for it:
//
//	the minutes before services count with those services (Room.Services)
//	where two playable spans of a day lie a long pause apart, services counting as
//	playing, the first minutes of the later one are kept free, with a rest after
//	them, and the day's room is less by as many (Room.Again)
//
// Hours within one span can hold a long pause, too; that is left to the player.

// warmedBefore gives those of a day's services that are warmed up for.
func (s *Season) warmedBefore(services []Service) (out []Service) {
	l := &s.Limits
	if l.WarmUpAgain == 0 {
		return nil
	}
	ended, first := Clock(0), true
	for _, v := range services {
		if v.Missed || v.Playing == 0 {
			continue
		}
		if first || v.Start-ended >= Clock(l.LongPause) {
			out = append(out, v)
		}
		ended, first = max(ended, v.Start+Clock(v.Lasts)), false
	}
	return out
}

// pausesIn gives when playing may go on after a long pause: the starts of those of
// a day's playable spans that lie so long after the playable span and the services
// before them. Spans come in order.
func (s *Season) pausesIn(d Date, playable []Span) (at []Clock) {
	services := s.ServicesOn(d)
	for i := 1; i < len(playable); i++ {
		from, ended := playable[i].From, playable[i-1].To
		for _, v := range services {
			if end := v.Start + Clock(v.Lasts); !v.Missed && v.Playing > 0 && v.Start < from {
				ended = max(ended, end)
			}
		}
		if from-ended >= Clock(s.Limits.LongPause) {
			at = append(at, from)
		}
	}
	return at
}

// warmingAgain gives the spans that a day's free ones keep for warming up again,
// each with the rest after it; none where the season asks for none.
func (s *Season) warmingAgain(d Date, free []Span) (out []Span) {
	l := &s.Limits
	if l.WarmUpAgain == 0 {
		return nil
	}
	playable := free
	for _, q := range l.Quiet.On(d) {
		playable = without(playable, q)
	}
	for _, at := range s.pausesIn(d, playable) {
		out = append(out, Span{at, at + Clock(l.WarmUpAgain+l.BlockRest)})
	}
	return out
}

// WarmUpsAgain gives when a day's sessions ask for warming up again: where playing
// lies on both sides of a long pause, as late before it goes on as the rest after
// it lets. Sessions without hours ask for none.
func (s *Season) WarmUpsAgain(d Date, sessions []*Session) (out []Span) {
	if s.Limits.WarmUpAgain == 0 || !s.HasHours() {
		return nil
	}
	free := s.freeOf(d)
	kept := s.warmingAgain(d, free)
	for i, k := range kept {
		until, first, before := Clock(24*60), Clock(24*60), false
		if i+1 < len(kept) {
			until = kept[i+1].From
		}
		for _, v := range sessions {
			switch {
			case !v.Playing || v.Start == nil:
			case *v.Start < k.From:
				before = true
			case *v.Start < until:
				first = min(first, *v.Start)
			}
		}
		if !before || first == 24*60 {
			continue
		}
		at := Span{first - k.To + k.From, first}
		for _, f := range free {
			if f.From <= at.From && at.To <= f.To {
				k = at
			}
		}
		out = append(out, Span{k.From, k.From + Clock(s.Limits.WarmUpAgain)})
	}
	return out
}

package model

// RestWord says in a word what keeps a day free of planned playing: "lost" or
// "day of pain" where the record says so, "day off", "on tour" or "rest day";
// empty where nothing does. Whoever shows a day takes the word from here. The
// history may be nil.
func (s *Season) RestWord(d Date, h *History) string {
	switch {
	case h != nil && h.Days[d] == Lost:
		return "lost"
	case h != nil && h.Days[d] == Stopped:
		return "day of pain"
	case s.Limits.OffOn(d):
		return "day off"
	case inAny(s.Limits.Tours, d):
		return "on tour"
	case s.Limits.RestOn(d):
		return "rest day"
	}
	return ""
}

// Noted gives what the player noted of a day that the record takes; empty where
// it takes none, or nothing was noted. The history may be nil.
func (h *History) Noted(d Date) string {
	if h == nil || h.Days[d] == NoNote {
		return ""
	}
	return h.Notes[d]
}

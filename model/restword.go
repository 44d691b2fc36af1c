package model

// RestWord says in a word what keeps a day free of planned playing: "lost" where the
// record says so, "day off", "on tour" or "rest day"; empty where nothing does.
// Whoever shows a day takes the word from here. The history may be nil.
func (s *Season) RestWord(d Date, h *History) string {
	switch {
	case h != nil && h.Days[d] == Lost:
		return "lost"
	case s.Limits.OffOn(d):
		return "day off"
	case inAny(s.Limits.Tours, d):
		return "on tour"
	case s.Limits.RestOn(d):
		return "rest day"
	}
	return ""
}

package model

// Blocks cuts a day's sessions, in the order in which they are played, where
// there is a rest or another gap between two. Sessions without times are one
// block.
func Blocks(day []*Session) [][]*Session {
	var out [][]*Session
	for i, s := range day {
		if i == 0 || gap(day[i-1], s) {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], s)
	}
	return out
}

func gap(a, b *Session) bool {
	return a.Ends != nil && b.Start != nil && *b.Start > *a.Ends
}

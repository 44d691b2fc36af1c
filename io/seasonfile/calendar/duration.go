package calendar

import (
	"strings"
	"time"
)

// length is how long an entry takes: whole days on the calendar, then time
// that runs on whatever clocks do (RFC 5545, 3.3.6).
type length struct {
	days int
	time time.Duration
}

// parseDuration reads P1DT2H30M and its like (RFC 5545, 3.3.6). Numbers have
// at most five digits.
func parseDuration(s string) (length, bool) {
	s = strings.ToUpper(strings.TrimSpace(s))
	negative := strings.HasPrefix(s, "-")
	rest, ok := strings.CutPrefix(strings.TrimLeft(s, "+-"), "P")
	var sum length
	n, digits, clock := 0, 0, false
	for i := 0; ok && i < len(rest); i++ {
		c := rest[i]
		if '0' <= c && c <= '9' && digits < 5 {
			n, digits = 10*n+int(c-'0'), digits+1
			continue
		}
		switch {
		case c == 'T' && digits == 0 && !clock && i+1 < len(rest):
			clock = true
			continue
		case digits == 0:
			return length{}, false
		case c == 'W' && !clock:
			sum.days += 7 * n
		case c == 'D' && !clock:
			sum.days += n
		case c == 'H' && clock:
			sum.time += time.Duration(n) * time.Hour
		case c == 'M' && clock:
			sum.time += time.Duration(n) * time.Minute
		case c == 'S' && clock:
			sum.time += time.Duration(n) * time.Second
		default:
			return length{}, false
		}
		n, digits = 0, 0
	}
	if negative {
		sum.days, sum.time = -sum.days, -sum.time
	}
	return sum, ok && digits == 0 && rest != ""
}

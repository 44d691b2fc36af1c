package model

import "math"

// Known work. Of what was once learnt some is kept: all of it in the fingers, else half
// after some 11 months and half of that after 11 more. That is what is lost of skills
// with the hands where nothing is done for them, in the mean of accuracy and speed
// (Tatel and Ackerman, Psychological Bulletin, 2025). What is kept need not be learnt
// again, and what is lost comes back sooner than it came (savings: Ebbinghaus 1885;
// Murre and Dros, PLoS ONE 10, e0120644, 2015). So of a known passage
//
//	first estimate × (1 − kept/2)        visits − round(2 × kept), of several two at least
//
// are wanted, and of a part's estimate the same share. The halves and the two visits are
// common practice, no source. Listening and read-through stay.

// halfKept is the number of days after which half is kept, 11 months.
const halfKept = 335

// Kept gives how much of a part is kept, in percent, that was last played on a day and
// comes again on another.
func Kept(played, again Date) int {
	return int(math.Round(100 * math.Exp2(-float64(max(0, again-played))/halfKept)))
}

// shortened takes off a length what is kept.
func shortened(length, kept int) int { return (length*(200-kept) + 100) / 200 }

// fewer takes off a number of visits what is kept.
func fewer(visits, kept int) int { return max(min(visits, 2), visits-(2*kept+50)/100) }

// estimated gives what all visits of a part take together, known as it is; 0 where only
// the named ones count.
func (p *Part) estimated() Minutes {
	if p.Estimate == 0 {
		return 0
	}
	return max(1, Minutes(shortened(int(p.Estimate), p.Kept)))
}

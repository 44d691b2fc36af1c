package model

import "math"

// Timed sums up the sessions of one kind that were recorded with the minutes
// they took: the ones that tell how far estimates are off, this way and that.
// A session recorded as done and no more tells nothing of it. Since one that
// went as planned is seldom given its minutes, the spread comes out rather too
// wide than too narrow.
type Timed struct {
	Sessions  int
	Estimated Minutes
	Took      Minutes
	Squares   float64 // Σ took²/estimated
}

// Spread says what work of one kind may take against its estimate: a session of
// m minutes takes, in the mean, Mean·m. Mean itself is known up to Ratio, which
// is the same for all sessions of the kind; beside that each is off by itself,
// with variance Minute·m.
type Spread struct {
	Mean   float64
	Ratio  float64 // standard deviation of the mean
	Minute float64 // variance by estimated minute, in minutes
}

const (
	// noise (σ² by the minute) and between (τ²) are the two figures of credence,
	// with their example: a visit of 10 minutes off by 5. Common practice, no
	// source.
	noise   = 2.5
	between = noise / credence
	// doubt is how many timed sessions the figure above counts for, so that two
	// good evenings don't make a player sure. Common practice, no source.
	doubt = 10
)

// Spread gives the spread of a kind of work, from the record as far as it goes.
// The mean and what is left of its variance are those of Ratio's model,
//
//	Var(mean | record) = τ²·K / (K + Σ estimated)
//
// and the noise of a session is the variance within the kind, weighted by the
// figure one begins with:
//
//	σ² = (ν·σ0² + Σ (took − r·estimated)²/estimated) / (ν + n − 1),  r = Σ took / Σ estimated
//
// (Bühlmann and Straub 1970; from memory). Where too few sessions are recorded
// for the ratio to count it is 1, with all the doubt there was.
func (l Learnt) Spread(e Effort) Spread {
	ratio, counts := l.Ratio(e)
	t := l[e]
	if !counts {
		return Spread{1, math.Sqrt(between), noise}
	}
	out := Spread{ratio, math.Sqrt(between * credence / (credence + float64(t.Estimated))), noise}
	if n := t.Timed.Sessions; n > 1 && t.Timed.Estimated > 0 {
		took := float64(t.Timed.Took)
		off := max(0, t.Timed.Squares-took*took/float64(t.Timed.Estimated))
		out.Minute = (doubt*noise + off) / (doubt + float64(n-1))
	}
	return out
}

func (l Learnt) addTimed(e Effort, estimated, took Minutes) {
	t := l[e]
	t.Timed.Sessions++
	t.Timed.Estimated += estimated
	t.Timed.Took += took
	t.Timed.Squares += float64(took) * float64(took) / float64(estimated)
	l[e] = t
}

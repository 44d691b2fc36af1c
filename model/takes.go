package model

import (
	"math"
	"slices"
)

// What work takes is a guess until it is done. It is said in the mean and as a range:
// of what is estimated from the spread of each kind of work (spread.go), and of a work
// whose length alone is known from what the player's own works took.

// Takes says what work takes, in minutes: the mean, and from Low to High. For a part that
// is in four cases of five (see Season.Takes), by a work's length see ByLength.
type Takes struct {
	Low  Minutes `json:"low"`
	Mean Minutes `json:"mean"`
	High Minutes `json:"high"`
}

// fourOfFive is how many standard deviations of a normal variable lie on each side of
// its mean in four cases of five.
const fourOfFive = 1.2816

// Spread gives the spread of a kind of work that lies ahead. Where that is planned with
// what was learnt, its minutes are right in the mean, and only the doubt is left. The
// history may be nil.
func (h *History) Spread(e Effort) Spread {
	if h == nil {
		return Learnt(nil).Spread(e)
	}
	k := h.Learnt.Spread(e)
	if _, counts := h.Learnt.Ratio(e); counts && h.Scaled {
		k.Ratio, k.Mean = k.Ratio/k.Mean, 1
	}
	return k
}

// Taught gives what all playing that lies ahead takes as it is planned and with what was
// learnt, which is not in it yet, and whether the player should hear of it: where they differ by
// a twentieth at least (common practice, no source) and by twice the doubt in what was learnt.
func (s *Season) Taught(h *History) (planned, learnt Minutes, sure bool) {
	plain, scaled := *h, *h
	plain.Scaled, scaled.Scaled = false, true
	of := map[Effort]Minutes{}
	for _, w := range s.Work(&plain) {
		for _, x := range s.undone(&w, true) {
			if x.Stage.Playing() {
				of[w.effort(&x)] += x.Minutes
				planned += x.Minutes
			}
		}
	}
	for _, x := range s.Wanted(&scaled) {
		if x.Stage.Playing() {
			learnt += x.Minutes
		}
	}
	variance := 0.0
	for _, e := range Efforts() {
		if _, counts := h.Learnt.Ratio(e); counts {
			off := h.Learnt.Spread(e).Ratio * float64(of[e])
			variance += off * off
		}
	}
	by := math.Abs(float64(learnt - planned))
	return planned, learnt, by > 0 && 20*by >= float64(planned) && by >= 2*math.Sqrt(variance)
}

// effort gives the kind of work that a session of the part is.
func (w *PartWork) effort(x *Wanted) Effort {
	e := Effort{Stage: x.Stage}
	if x.Stage == PassageStage {
		e.Hard = w.Passage(x.Passage).Passage.Hard
	}
	return e
}

// Takes gives what the sessions of a part that lie ahead take together. With M the
// minutes of each kind among them, and mean, ratio and minute of its Spread,
//
//	mean = Σ mean·M        variance = Σ (ratio·M)² + minute·M
//
// the kinds taken as independent of each other and the sum as normal. The history may
// be nil.
func (s *Season) Takes(w *PartWork, h *History) Takes {
	of := map[Effort]Minutes{}
	for _, x := range s.undone(w, true) {
		of[w.effort(&x)] += x.Minutes
	}
	var mean, variance float64
	for _, e := range Efforts() {
		k, m := h.Spread(e), float64(of[e])
		mean, variance = mean+k.Mean*m, variance+k.Ratio*m*k.Ratio*m+k.Minute*m
	}
	off := fourOfFive * math.Sqrt(variance)
	return Takes{rounded(max(0, mean-off)), rounded(mean), rounded(mean + off)}
}

// WholeWork is what Earlier calls a work that was worked at from its first visit to its
// last: Estimated is how long it lasts, Took what all its visits took together.
const WholeWork Stage = "a whole work"

// worked sums up the visits of a part.
type worked struct {
	recorded int // visits that the record speaks of
	took     Minutes
}

// WholeWorks gives the works of known length all of whose visits lie behind, five of them
// at least recorded, with those of earlier seasons before them. Works that were known or
// that come back tell nothing of others. The history may be nil.
func (s *Season) WholeWorks(h *History) []Tally {
	var out []Tally
	for _, e := range s.Earlier {
		if e.Stage == WholeWork && e.Estimated > 0 {
			out = append(out, e.Tally)
		}
	}
	if h == nil {
		return out
	}
	for _, w := range s.Work(h) {
		did := h.worked[w.Name]
		lacks := slices.ContainsFunc(w.Passages, func(p PassageWork) bool { return !p.Passage.Upkeep && len(p.Done) < len(p.Recipe) })
		if w.Part.Duration > 0 && w.Part.Kept == 0 && !w.Part.ComesBack && did.recorded >= enough && !lacks {
			out = append(out, Tally{Sessions: did.recorded, Estimated: w.Part.Duration, Took: did.took})
		}
	}
	return out
}

// ByLength gives what all visits of a work take together by the works that lie behind:
// its length times Σ took / Σ length, and from the least to the most that one of them took
// by the minute. Of n works and one more, all alike in what can be known of them, the one
// is within the others' range in n−1 cases of n+1 (order statistics: Wilks, Annals of
// Mathematical Statistics 12, 91-96, 1941; from memory). With fewer than three, where
// that is less than half, nothing is said.
func ByLength(all []Tally, length Minutes) (t Takes, is bool) {
	const least = 3
	if len(all) < least || length == 0 {
		return t, false
	}
	low, high, took, lasts := math.Inf(1), 0.0, 0.0, 0.0
	for _, x := range all {
		rate := float64(x.Took) / float64(x.Estimated)
		low, high, took, lasts = min(low, rate), max(high, rate), took+float64(x.Took), lasts+float64(x.Estimated)
	}
	l := float64(length)
	return Takes{rounded(low * l), rounded(took / lasts * l), rounded(high * l)}, true
}

func rounded(x float64) Minutes { return Minutes(math.Round(x)) }

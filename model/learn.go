package model

import "math"

// Effort is a kind of work whose estimates are judged together: a stage, and
// for passages their difficulty.
type Effort struct {
	Stage Stage
	Hard  int // 1..3 for passages, else 0
}

// Tally sums up what the record says of one kind of work.
type Tally struct {
	Sessions  int
	Estimated Minutes // by the season file, never scaled by what was learnt
	Took      Minutes
	Timed     Timed // of these, the sessions recorded with the minutes they took
}

// Learnt is what work takes against its estimate, by kind.
type Learnt map[Effort]Tally

// Earlier is a tally of sessions of earlier seasons, which counts with those recorded
// in this one.
type Earlier struct {
	Effort
	Tally
}

// taught gives what earlier seasons taught.
func (s *Season) taught() Learnt {
	out := Learnt{}
	for _, e := range s.Earlier {
		if e.Stage == WholeWork {
			continue
		}
		t := out[e.Effort]
		t.Sessions, t.Estimated, t.Took = t.Sessions+e.Sessions, t.Estimated+e.Estimated, t.Took+e.Took
		out[e.Effort] = t
	}
	return out
}

// String names a kind of work: "read-through", "easy passages".
func (e Effort) String() string {
	if e.Stage == PassageStage {
		return [...]string{"", "easy", "ordinary", "hard"}[e.Hard] + " passages"
	}
	return string(e.Stage)
}

const (
	// credence is the estimated minutes at which the record counts as much as
	// the estimate: K = σ²/τ² with a single visit of 10 minutes off by half of
	// itself (σ² = 2.5 a minute) and players' true ratios off by a fifth
	// (τ² = 0.04). Both figures are common practice, no source.
	credence = 60
	// enough is how many sessions of a kind are recorded before its ratio is
	// spoken of or used: a single bad evening says nothing.
	enough = 5
)

// Ratio gives the share of their estimate that sessions of a kind take, and
// whether enough of them are recorded for it to count. It is the credibility
// estimate
//
//	ratio = (K + Σ took) / (K + Σ estimated)
//	      = Z·(Σ took / Σ estimated) + (1 − Z),  Z = Σ estimated / (Σ estimated + K)
//
// which shrinks towards 1 where there are few data. Source: Bühlmann, ASTIN
// Bulletin 4, 199-207 (1967); with exposures, Bühlmann and Straub (1970); both
// from memory. The prior mean is 1, since the estimates are the player's own.
// It stays within a half and twice.
func (l Learnt) Ratio(e Effort) (ratio float64, counts bool) {
	t := l[e]
	ratio = (credence + float64(t.Took)) / (credence + float64(t.Estimated))
	return min(2, max(0.5, ratio)), t.Sessions >= enough
}

// scale gives the minutes that work of a kind will take by what was learnt.
func (l Learnt) scale(e Effort, m Minutes) Minutes {
	ratio, counts := l.Ratio(e)
	if !counts || m == 0 {
		return m
	}
	return max(1, Minutes(math.Round(ratio*float64(m))))
}

// stretch gives the visits of a recipe that lie ahead, those from number done on,
// the lengths that they will take by what was learnt. Whole steps are dealt out
// over all of the recipe, so that a visit's length does not change when one
// before it is done; over is what the passages before it have left over.
func (l Learnt) stretch(e Effort, recipe []Visit, done int, step Minutes, over int) {
	if _, counts := l.Ratio(e); !counts {
		return
	}
	for k, m := range dealMore(l.exact(e, recipe), step, over) {
		if k >= done {
			recipe[k].Minutes = m
		}
	}
}

// exact gives the lengths of a recipe's visits by what was learnt, in hundredths of a minute.
func (l Learnt) exact(e Effort, recipe []Visit) []int {
	ratio, _ := l.Ratio(e)
	exact := make([]int, len(recipe))
	for k, v := range recipe {
		exact[k] = int(math.Round(100 * ratio * float64(v.Minutes)))
	}
	return exact
}

// over gives what whole steps leave over of a recipe, in hundredths of a minute,
// from minus half a step to half of one, with what was left over before it. A share of a tenth is
// less than half a step on short recipes: rounded in each passage it would be
// lost in all of them, or come to two tenths. So it is carried from passage to passage
// of a part, by the recipes as they are before anything is done, so that what
// happens to one passage changes the lengths of no other.
func (l Learnt) over(e Effort, recipe []Visit, step Minutes, before int) int {
	if _, counts := l.Ratio(e); !counts {
		return 0
	}
	sum := before
	for _, m := range l.exact(e, recipe) {
		sum += m
	}
	return sum - 100*int(toStep(sum, step))
}

func (l Learnt) add(e Effort, estimated, took Minutes) {
	t := l[e]
	t.Sessions, t.Estimated, t.Took = t.Sessions+1, t.Estimated+estimated, t.Took+took
	l[e] = t
}

// Efforts gives the kinds of work in the order in which they are shown.
func Efforts() []Effort {
	out := []Effort{{Stage: ListeningStage}, {Stage: ReadStage}}
	for hard := 1; hard <= 3; hard++ {
		out = append(out, Effort{PassageStage, hard})
	}
	return append(out, Effort{Stage: RecordingsStage})
}

package model

import "slices"

// Tempo is a pace in beats a minute, as a metronome shows it. Which note the
// beat is, the part says.
type Tempo int

// Pace is what a passage's tempo is and shall be. A zero Goal: the season file
// says nothing of it.
type Pace struct {
	Now  Tempo // at which it works already; 0: not said, see Start
	Goal Tempo // of the concert
}

// Start gives the tempo at which work on the passage begins: Now, else well
// under the goal.
func (p Pace) Start() Tempo {
	if p.Now != 0 {
		return min(p.Now, p.Goal)
	}
	return down(p.Goal*startShare/100+1, 1)
}

const (
	// startShare is where work begins, in percent of the goal, where the season
	// file does not say what works already. Common practice, no source.
	startShare = 60
	// warmSteps is how far under what was reached a visit begins. Common
	// practice, no source.
	warmSteps = 2
)

// metronome is the traditional scale of metronomes: 40 to 60 by 2, to 72 by 3,
// to 120 by 4, to 144 by 6, to 208 by 8, 39 tempos in all; one step is between
// 3.4 and 5.6 percent. Traditional; quoted, the percentages computed.
var metronome = func() (out []Tempo) {
	at := Tempo(40)
	for _, run := range []struct{ to, by Tempo }{{60, 2}, {72, 3}, {120, 4}, {144, 6}, {208, 8}} {
		for ; at < run.to; at += run.by {
			out = append(out, at)
		}
	}
	return append(out, at)
}()

// Metronome gives the tempos of the traditional scale, slowest first.
func Metronome() []Tempo { return slices.Clone(metronome) }

// up gives the tempo so many steps above another, never above the goal, which
// counts as a step of its own where it lies between two marks.
func up(from Tempo, steps int, goal Tempo) Tempo {
	for ; steps > 0 && from < goal; steps-- {
		i, on := slices.BinarySearch(metronome, from)
		if on {
			i++
		}
		if i == len(metronome) {
			return goal
		}
		from = min(metronome[i], goal)
	}
	return from
}

// down gives the tempo so many steps below another, 40 at the least.
func down(from Tempo, steps int) Tempo {
	for ; steps > 0; steps-- {
		i, _ := slices.BinarySearch(metronome, from)
		from = metronome[max(0, i-1)]
	}
	return from
}

// stepsTo counts the steps from one tempo up to another.
func stepsTo(from, goal Tempo) (n int) {
	for ; from < goal; n++ {
		from = up(from, 1, goal)
	}
	return n
}

// Rung is the tempo work of one visit: begin at From, go up to To. Over, where
// it is not 0, is a step above the goal to be tried once, so that the goal
// feels easy.
type Rung struct {
	From Tempo `json:"from"`
	To   Tempo `json:"to"`
	Over Tempo `json:"over,omitempty"`
	Goal Tempo `json:"goal"`
}

// Short gives the steps that still lie between the visit's end and the goal.
func (r Rung) Short() int { return stepsTo(r.To, r.Goal) }

// rung gives the next visit's tempos: from what was reached an even share of
// the steps that are left, so that the goal is reached one visit before the
// check and held in it; never more than so many steps a day.
//
//	climb = min(most, ⌈steps to the goal / max(1, visits left − 1)⌉)
func rung(reached Tempo, p Pace, left, most int) Rung {
	reached = min(reached, p.Goal)
	n, work := stepsTo(reached, p.Goal), max(1, left-1)
	climb := min(most, (n+work-1)/work)
	r := Rung{To: up(reached, climb, p.Goal), Goal: p.Goal}
	r.From = max(down(reached, warmSteps), min(reached, p.Start()))
	if over := up(p.Goal, 1, metronome[len(metronome)-1]); left > 1 && r.To == p.Goal && climb < most && over > p.Goal {
		r.Over = over
	}
	return r
}

// Ladder gives a passage's tempos visit by visit, those done included, and nil
// where the season file gives it no tempo. What the record says was reached
// moves what comes after; a visit done without a word counts as having reached
// what it went for. The history may be nil.
func (s *Season) Ladder(w *PassageWork, h *History) []Rung {
	p := w.Passage.Tempo
	if p.Goal == 0 {
		return nil
	}
	out, reached := make([]Rung, len(w.Recipe)), p.Start()
	for k := range out {
		out[k] = rung(reached, p, len(out)-k, s.Habits.TempoSteps)
		if k > 0 && k == len(out)-1 {
			out[k].From = out[k].To // a check is played before any work
		}
		reached = out[k].To
		if h == nil || k >= len(w.Done) {
			continue
		}
		if said, ok := h.Tempos[VisitID(w.Name, k+1)]; ok && said != 0 {
			reached = said
		} else if ok {
			reached = out[k].From // it did not hold
		}
	}
	return out
}

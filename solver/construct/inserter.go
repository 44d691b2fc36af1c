// Package construct makes whole plans without an engine: cheapest insertion, greedily or from a standing
// plan, and simulated annealing over small moves.
package construct

import (
	"primaprova/model"
	"primaprova/solver/instance"
	"primaprova/solver/pricing"
)

// Inserter places passages and parts one at a time where they cost least
// beside what is placed already. It is a workspace: one for each goroutine.
type Inserter struct {
	S      *instance.Solution
	By     instance.Charge // what days and wishes charge
	r      pricing.DP
	sum    [][]float64
	stages pricing.StageCharges
	noise  func() float64 // factor on the body charge; nil for none
	T      *pricing.Duals // prices to charge by, in place of what the solution's days cost; nil for none
}

// charges fills in what each visit of a passage costs by day in the present
// solution, +Inf where the day is full.
// A passage's visits lie on different days; what two of them do together to
// one pair of days or one week is only seen once they are placed, so the
// charge proposes and the score decides.
func (in *Inserter) charges(i int) {
	s := in.S
	q := &s.P.Passages[i]
	w := in.By.Weights
	if in.T != nil {
		w = in.T.Weights()
	}
	c := in.r.Load(q, w)
	for k := range q.Visits {
		v := &q.Visits[k]
		for d := q.Lo; d <= q.Hi; d++ {
			c[k][d-q.Lo] = in.visitCharge(v, d)
		}
	}
}

func (in *Inserter) visitCharge(v *instance.Visit, d int) float64 {
	s := in.S
	if !v.May(d) || s.Visits[d] >= s.P.Room[d].Visits || !s.Playable(d, v.Minutes) {
		return instance.Inf
	}
	if in.T != nil {
		return in.T.Minute[d]*float64(v.Minutes) + in.T.Visit[d] + in.T.Weight[model.Closeness]*float64(s.P.Moved(v.Stand, d))
	}
	body := float64(s.Extra(d, v.Minutes)) / 100
	if in.noise != nil {
		body *= in.noise()
	}
	return in.By.Body*body + in.By.Closeness*float64(s.P.Moved(v.Stand, d))
}

// Passage places a passage in its part's frame as cheaply as it can.
func (in *Inserter) Passage(i int) {
	q := &in.S.P.Passages[i]
	f := in.S.Frames[q.Part]
	if f.Read == instance.None && q.Done == 0 || q.Hi < q.Lo {
		return
	}
	in.charges(i)
	if _, days := in.r.Best(int(f.Read), int(f.Phi)); len(days) > 0 {
		in.S.Place(i, days)
	}
}

// stageCharges fills in what a part's stages cost by day.
func (in *Inserter) chargeStages(q *instance.Part) {
	s, c := in.S, &in.stages
	c.Reset(q.Hi - q.Lo + 1)
	for d := q.WinLo; d <= q.WinHi; d++ {
		at := d - q.Lo
		closeTo := func(i int) float64 { return in.By.Closeness * float64(s.P.Moved(q.Stand[i], d)) }
		if q.Listen > 0 && q.Allowed(0, d) && s.Hearable(q, d) {
			c.Listen[at] = in.By.Closeness * float64(s.P.MovedListening(q, d))
		}
		if q.Read > 0 && q.Allowed(1, d) && s.Playable(d, q.Read) {
			c.Read[at] = closeTo(1) + in.By.Body*float64(s.Extra(d, q.Read))/100
		}
	}
	for d := q.RecLo; d <= q.RecHi && q.Rec > 0; d++ {
		if q.Allowed(2, d) && s.Listenable(d, q.Rec) {
			c.Rec[d-q.Lo] = in.By.Closeness * float64(s.P.Moved(q.Stand[2], d))
		}
	}
}

// frames rates the frames of a part that is lifted, each passage on its own:
// what they take from each other is not seen.
func (in *Inserter) frames(i, want int) []pricing.PricedFrame {
	q := &in.S.P.Parts[i]
	n := q.Hi - q.Lo + 1
	if n <= 0 {
		return nil
	}
	in.sum = pricing.Square(in.sum, n)
	empty := 0.0
	for k := q.First; k < q.Last; k++ {
		in.charges(k)
		in.r.Begin()
		in.r.Frames(q.Lo, in.sum, q.AllFrames())
		empty += in.r.Unread()
	}
	in.chargeStages(q)
	return pricing.BestFrames(q, in.r.W, in.sum, &in.stages, empty, want, q.AllFrames())
}

// Part places a part that is lifted: in each of its `want` most promising
// frames in turn, keeping the best by score.
func (in *Inserter) Part(i, want int, order []int) {
	q := &in.S.P.Parts[i]
	var best instance.Score
	var bestFrame instance.Frame
	var bestDays [][]instance.Day
	for n, f := range in.frames(i, want) {
		if !in.S.Fits(q, f.Frame) {
			continue
		}
		in.S.SetFrame(i, f.Frame)
		for _, k := range order {
			in.Passage(k)
		}
		if now := in.S.Score(); n == 0 || bestDays == nil || now.Less(best) {
			best, bestFrame, bestDays = now, f.Frame, append([][]instance.Day{}, in.S.Sched[q.First:q.Last]...)
		}
		in.S.LiftPart(i)
	}
	if bestDays == nil {
		return
	}
	in.S.SetFrame(i, bestFrame)
	for k, days := range bestDays {
		if len(days) > 0 {
			in.S.Place(q.First+k, days)
		}
	}
}

// Greedy fills the calendar part by part, the earliest deadline first, each in
// its cheapest frame beside what is there already, each passage as cheaply as
// it goes, the ones with most at stake first. It needs no engine and gives a
// plan that keeps every rule.
func Greedy(p *instance.Instance) *instance.Solution {
	s := instance.NewSolution(p)
	in := &Inserter{S: s, By: instance.InOrder}
	for _, i := range p.ByDeadline() {
		in.Part(i, 1, p.Order(&p.Parts[i]))
	}
	return s
}

package solver

import "primaprova/model"

// inserter places passages and parts one at a time where they cost least
// beside what is placed already. It is a workspace: one for each goroutine.
type inserter struct {
	s      *state
	by     charge // what days and wishes charge
	r      recursion
	sum    [][]float64
	stages stageCharges
	noise  func() float64 // factor on the body charge; nil for none
	t      *tariff        // prices to charge by, in place of what the state's days cost; nil for none
}

// charges fills in what each visit of a passage costs by day in the present
// state, +Inf where the day is full.
// A passage's visits lie on different days; what two of them do together to
// one pair of days or one week is only seen once they are placed, so the
// charge proposes and the score decides.
func (in *inserter) charges(i int) {
	s := in.s
	q := &s.p.passages[i]
	w := in.by.weights
	if in.t != nil {
		w = in.t.weights()
	}
	c := in.r.load(q, w)
	for k := range q.visits {
		v := &q.visits[k]
		for d := q.lo; d <= q.hi; d++ {
			c[k][d-q.lo] = in.visitCharge(v, d)
		}
	}
}

func (in *inserter) visitCharge(v *visit, d int) float64 {
	s := in.s
	if !v.may(d) || s.visits[d] >= s.p.room[d].visits || !s.playable(d, v.minutes) {
		return inf
	}
	if in.t != nil {
		return in.t.minute[d]*float64(v.minutes) + in.t.visit[d] + in.t.weight[model.Closeness]*float64(s.p.moved(v.stand, d))
	}
	body := float64(s.extra(d, v.minutes)) / 100
	if in.noise != nil {
		body *= in.noise()
	}
	return in.by.body*body + in.by.closeness*float64(s.p.moved(v.stand, d))
}

// passage places a passage in its part's frame as cheaply as it can.
func (in *inserter) passage(i int) {
	q := &in.s.p.passages[i]
	f := in.s.frames[q.part]
	if f.read == none && q.done == 0 || q.hi < q.lo {
		return
	}
	in.charges(i)
	if _, days := in.r.best(int(f.read), int(f.phi)); len(days) > 0 {
		in.s.place(i, days)
	}
}

// stageCharges fills in what a part's stages cost by day.
func (in *inserter) chargeStages(q *part) {
	s, c := in.s, &in.stages
	c.reset(q.hi - q.lo + 1)
	for d := q.winLo; d <= q.winHi; d++ {
		at := d - q.lo
		closeTo := func(i int) float64 { return in.by.closeness * float64(s.p.moved(q.stand[i], d)) }
		if q.listen > 0 && q.allowed(0, d) && s.listenable(d, q.listen) {
			c.listen[at] = closeTo(0)
		}
		if q.read > 0 && q.allowed(1, d) && s.playable(d, q.read) {
			c.read[at] = closeTo(1) + in.by.body*float64(s.extra(d, q.read))/100
		}
		if q.rec > 0 && d >= q.recLo && q.allowed(2, d) && s.listenable(d, q.rec) {
			c.rec[at] = closeTo(2)
		}
	}
}

// frames rates the frames of a part that is lifted, each passage on its own:
// what they take from each other is not seen.
func (in *inserter) frames(i, want int) []ratedFrame {
	q := &in.s.p.parts[i]
	n := q.hi - q.lo + 1
	if n <= 0 {
		return nil
	}
	in.sum = square(in.sum, n)
	empty := 0.0
	for k := q.first; k < q.last; k++ {
		in.charges(k)
		in.r.begin()
		in.r.frames(q.lo, in.sum, q.allFrames())
		empty += in.r.unread()
	}
	in.chargeStages(q)
	return q.bestFrames(in.r.w, in.sum, &in.stages, empty, want, q.allFrames())
}

// part places a part that is lifted: in each of its `want` most promising
// frames in turn, keeping the best by score.
func (in *inserter) part(i, want int, order []int) {
	q := &in.s.p.parts[i]
	var best score
	var bestFrame frame
	var bestDays [][]int16
	for n, f := range in.frames(i, want) {
		if !in.s.fits(q, f.frame) {
			continue
		}
		in.s.setFrame(i, f.frame)
		for _, k := range order {
			in.passage(k)
		}
		if now := in.s.score(); n == 0 || bestDays == nil || now.less(best) {
			best, bestFrame, bestDays = now, f.frame, append([][]int16{}, in.s.sched[q.first:q.last]...)
		}
		in.s.liftPart(i)
	}
	if bestDays == nil {
		return
	}
	in.s.setFrame(i, bestFrame)
	for k, days := range bestDays {
		if len(days) > 0 {
			in.s.place(q.first+k, days)
		}
	}
}

package pricing

import "primaprova/solver/instance"

// Frames adds to sum[f][g] the cost of the passage's cheapest schedule in every
// frame of its part whose first round ends as a box has it: it ends on day φ = lo+f−1,
// the read-through is on day ρ = lo+g−1; f = 0 is a first round that is over, g = 0 a
// read-through done before. Sum is square. Begin comes first.
func (r *DP) Frames(lo int, sum [][]float64, b instance.Box) {
	for f, row := range sum {
		if phi := lo + f - 1; b.Ends(phi) {
			r.addRound(lo, row, phi, phi)
		}
	}
}

// Begin computes V as it is where the third visit may lie on any day, and keeps it.
func (r *DP) Begin() {
	r.fill(instance.Before)
	for k, v := range r.v {
		copy(r.free[k], v)
	}
}

// addRound adds to row[g] the cost of the cheapest schedule with the read-through on
// day ρ = lo+g−1, where the third visit comes after day `after` and the first one by
// day `until`. Where both are φ, that is what the frame with ρ and φ costs; where the
// first day is earlier, no frame whose first round ends between them costs less.
//
// What does not depend on φ was computed once (begin): the visits from the third on,
// and those before it where the third would come after φ anyhow. The rest takes about
// n·(pref−gap+2) steps for each visit.
func (r *DP) addRound(lo int, row []float64, after, until int) {
	q, n := r.q, len(row)-1
	if q.Third > 0 {
		from := after + 1 - q.Lo
		for k, to := q.Third-1, from; k >= 0; k-- {
			to -= q.Visits[k+1].Least
			within := min(max(to, 0), r.n)
			r.later(k+1, max(from, 0), within)
			r.back(k, within)
			copy(r.v[k][within:], r.free[k][within:]) // what another day has left there
			from = 0
		}
	}
	if !q.InRound {
		r.addAfter(lo, row, after)
		return
	}
	best := r.empty()
	to := min(r.n, until+1-q.Lo)
	for rho := n - 1; rho >= -1; rho-- {
		// the first visit may lie on the days after ρ
		if d := lo + rho + 1 - q.Lo; d >= 0 && d < to {
			best = min(best, r.v[0][d])
		}
		if rho == -1 {
			for d := min(to, lo-q.Lo) - 1; d >= 0; d-- {
				best = min(best, r.v[0][d])
			}
		}
		row[rho+1] += best
	}
}

// addAfter is addRound for a passage whose first visit is not one of the first round.
func (r *DP) addAfter(lo int, row []float64, after int) {
	n := len(row) - 1
	from, to := r.firstDays(instance.Before, after)
	best := r.empty()
	d := to - 1
	for rho := n - 1; rho >= -1; rho-- {
		stopAt := from
		if r.q.Done == 0 && rho >= 0 {
			stopAt = max(from, lo+rho+1-r.q.Lo)
		} else if r.q.Done > 0 && rho >= 0 && rho < n-1 {
			stopAt = d + 1 // all days were seen at the first step
		}
		for ; d >= stopAt; d-- {
			best = min(best, r.v[0][d]+r.start(d))
		}
		row[rho+1] += best
	}
}

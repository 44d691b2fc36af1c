package solver

// frames adds to sum[f][g] the cost of the passage's cheapest schedule in every
// frame of its part whose first round ends as a box has it: the first round ends on day φ = lo+f−1, the read-through is
// on day ρ = lo+g−1; f = 0 is a first round that is over, g = 0 a read-through
// done before. Sum is square. What does not depend on φ is computed once: the
// visits from the third on, and those before it where the third would come after φ
// anyhow. So a passage of the first round takes about n²·(pref−gap+2) steps for
// all frames together.
func (r *recursion) frames(lo int, sum [][]float64, b box) {
	q, n := r.q, len(sum)-1
	empty := r.empty()
	r.fill(before)
	if !q.inRound && q.third == none {
		r.addColumn(lo, sum, before, 0, n+1)
		return
	}
	for f := 0; f <= n; f++ {
		phi := lo + f - 1
		if !b.ends(phi) {
			continue
		}
		if q.third > 0 {
			from := phi + 1 - q.lo
			for k, to := q.third-1, from; k >= 0; k-- {
				to -= q.visits[k+1].least
				within := min(max(to, 0), r.n)
				r.later(k+1, max(from, 0), within)
				r.back(k, within)
				from = 0
			}
		}
		if !q.inRound {
			r.addColumn(lo, sum, phi, f, f+1)
			continue
		}
		row, best := sum[f], empty
		to := min(r.n, phi+1-q.lo)
		for rho := n - 1; rho >= -1; rho-- {
			// the first visit may lie on the days after ρ
			if d := lo + rho + 1 - q.lo; d >= 0 && d < to {
				best = min(best, r.v[0][d])
			}
			if rho == -1 {
				for d := min(to, lo-q.lo) - 1; d >= 0; d-- {
					best = min(best, r.v[0][d])
				}
			}
			row[rho+1] += best
		}
	}
}

// addColumn adds, for the first rounds f0..f1-1, a cost that depends on ρ
// alone.
func (r *recursion) addColumn(lo int, sum [][]float64, phi, f0, f1 int) {
	n := len(sum) - 1
	from, to := r.firstDays(before, phi)
	best := r.empty()
	d := to - 1
	for rho := n - 1; rho >= -1; rho-- {
		stopAt := from
		if r.q.done == 0 && rho >= 0 {
			stopAt = max(from, lo+rho+1-r.q.lo)
		} else if r.q.done > 0 && rho >= 0 && rho < n-1 {
			stopAt = d + 1 // all days were seen at the first step
		}
		for ; d >= stopAt; d-- {
			best = min(best, r.v[0][d]+r.start(d))
		}
		for f := f0; f < f1; f++ {
			sum[f][rho+1] += best
		}
	}
}

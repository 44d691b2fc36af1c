package pricing

import "primaprova/solver/instance"

// DP finds a passage's cheapest schedule. It is a workspace: one for
// each goroutine.
//
// Let c(k,d) be the charge of visit k on day d, gap(k) and pref(k) the least
// and the preferred days between visit k−1 and visit k, μ the weight of
// spacing, stop(k,d) what it costs to end with visit k on day d (lateness,
// staleness, and the worth of the visits left out). Then
//
//	V(k,d) = c(k,d) + min( stop(k,d),
//	                       min over e ≥ d+gap(k+1) of V(k+1,e) + μ·max(0, e−d−pref(k+1)) )
//
// read from the last visit to the first. The inner minimum splits at
// e = d+pref: the near part holds a few days, the far part is a running
// minimum of V(k+1,e) + μ·e. A passage of K visits in a window of n days takes
// about K·n·(pref−gap+2) steps.
//
// The frame enters by two cuts: the first visit lies in (ρ, φ], the third
// after φ.
type DP struct {
	q    *instance.Passage
	W    instance.Weights
	n    int         // days of the passage's window
	c    [][]float64 // charge by visit and day of the window
	ends [][]float64 // stop by visit and day of the window
	v    [][]float64 // V by visit and day of the window
	free [][]float64 // V where no frame keeps the third visit back (begin)
	next []float64   // inner minimum
	buf  []float64
	days []instance.Day
}

// Load sets the passage up and gives its charges to be filled in: one row a
// visit, one entry a day from q.lo to q.hi, +Inf where the visit may not lie.
func (r *DP) Load(q *instance.Passage, w instance.Weights) [][]float64 {
	r.q, r.W = q, w
	r.n = max(0, q.Hi-q.Lo+1)
	k := len(q.Visits)
	need := (4*k + 1) * r.n
	if cap(r.buf) < need {
		r.buf = make([]float64, 2*need)
	}
	buf := r.buf[:need]
	if cap(r.c) < k {
		for _, rows := range []*[][]float64{&r.c, &r.v, &r.free, &r.ends} {
			*rows = make([][]float64, 2*k)
		}
	}
	r.c, r.v, r.free, r.ends = r.c[:k], r.v[:k], r.free[:k], r.ends[:k]
	for i := range r.c {
		r.c[i], buf = buf[:r.n:r.n], buf[r.n:]
		r.v[i], buf = buf[:r.n:r.n], buf[r.n:]
		r.free[i], buf = buf[:r.n:r.n], buf[r.n:]
		r.ends[i], buf = buf[:r.n:r.n], buf[r.n:]
		r.end(i)
	}
	r.next = buf[:r.n]
	return r.c
}

// end fills in what it costs to end with visit k, by its day.
func (r *DP) end(k int) {
	worth, q := r.W.Coverage*float64(r.q.Worth(k+1)), r.q
	for d := range r.ends[k] {
		cost, day := worth, q.Lo+d
		if day > q.Ready {
			cost += r.W.Ready * float64(day-q.Ready)
		}
		if day < q.Fresh {
			cost += r.W.Spacing * float64(q.Fresh-day)
		}
		r.ends[k][d] = cost
	}
}

// empty gives the cost of placing nothing.
func (r *DP) empty() float64 { return r.W.Coverage * float64(r.q.Worth(0)) }

// Unread gives the cost of the cheapest schedule where no read-through is
// placed: first visits wait for one, visits after one that was done don't.
func (r *DP) Unread() float64 {
	if r.q.Done == 0 {
		return r.empty()
	}
	cost, _ := r.Best(instance.Before, instance.Before)
	return cost
}

// later fills r.next for visit k after the days of the window before `to`: the
// inner minimum over visit k's days, all of them on day `from` of the window or
// later. Three quarters of all pricing is spent here and in back.
func (r *DP) later(k, from, to int) {
	v, mu := r.v[k], r.W.Spacing
	n, next := len(v), r.next[:to]
	gap, pref := r.q.Visits[k].Least, r.q.Visits[k].Preferred
	far := instance.Inf
	for e := n - 1; e >= max(to+pref+1, from); e-- {
		if c := v[e] + mu*float64(e); c < far {
			far = c
		}
	}
	for d := to - 1; d >= 0; d-- {
		if e := d + pref + 1; e < n && e >= from {
			if c := v[e] + mu*float64(e); c < far {
				far = c
			}
		}
		best := far - mu*float64(d+pref)
		if near := max(d+gap, from); near < n {
			for _, c := range v[near:max(near, min(d+pref+1, n))] {
				if c < best {
					best = c
				}
			}
		}
		next[d] = best
	}
}

// back fills V for visit k on the days of the window before `to`, given r.next of
// visit k+1 (ignored for the last).
func (r *DP) back(k, to int) {
	v, c, ends := r.v[k][:to], r.c[k][:to], r.ends[k][:to]
	if k == len(r.v)-1 {
		for d := range v {
			v[d] = c[d] + ends[d]
		}
		return
	}
	next := r.next[:to]
	for d := range v {
		best := ends[d]
		if next[d] < best {
			best = next[d]
		}
		v[d] = c[d] + best
	}
}

// fill computes V for all visits in a frame whose first round ends on day phi
// (of the season).
func (r *DP) fill(phi int) {
	for k := len(r.v) - 1; k >= 0; k-- {
		if k < len(r.v)-1 {
			from := 0
			if k+1 == r.q.Third {
				from = max(0, phi+1-r.q.Lo)
			}
			r.later(k+1, from, r.n)
		}
		r.back(k, r.n)
	}
}

// firstDays gives the days of the window on which the next visit may lie in a
// frame, as a half-open run.
func (r *DP) firstDays(rho, phi int) (from, to int) {
	q := r.q
	from, to = 0, r.n
	if q.Done > 0 {
		from = max(0, q.Since+q.Visits[0].Least-q.Lo)
		if q.Third == 0 {
			from = max(from, phi+1-q.Lo)
		}
		return from, to
	}
	if rho != instance.Before {
		from = max(0, rho+1-q.Lo)
	}
	if q.InRound {
		to = min(to, phi+1-q.Lo)
	}
	return from, to
}

// start gives what the next visit's distance from the last one done costs on
// day d of the window.
func (r *DP) start(d int) float64 {
	q := r.q
	if q.Done == 0 {
		return 0
	}
	return r.W.Spacing * float64(max(0, q.Lo+d-q.Since-q.Visits[0].Preferred))
}

// Best gives the cheapest schedule in a frame and its cost; the slice is the
// caller's to keep only until the next call. An empty schedule is always
// possible. Ties go to the schedule that places more, then to earlier days.
func (r *DP) Best(rho, phi int) (float64, []instance.Day) {
	r.fill(phi)
	r.days = r.days[:0]
	cost, at := r.empty(), instance.None
	from, to := r.firstDays(rho, phi)
	for d := from; d < to; d++ {
		if c := r.v[0][d] + r.start(d); c < cost || c == cost && at == instance.None && c < instance.Inf {
			cost, at = c, d
		}
	}
	if at == instance.None {
		return cost, nil
	}
	r.days = append(r.days, instance.Day(r.q.Lo+at))
	for k := 0; k+1 < len(r.v); k++ {
		nx, e := r.follow(k+1, at, phi)
		if e == instance.None || nx > r.ends[k][at] {
			break
		}
		at = e
		r.days = append(r.days, instance.Day(r.q.Lo+at))
	}
	return cost, r.days
}

// follow finds the best day of visit k after the visit before it on day d.
func (r *DP) follow(k, d, phi int) (float64, int) {
	v := r.v[k]
	gap, pref := r.q.Visits[k].Least, r.q.Visits[k].Preferred
	from := d + gap
	if k == r.q.Third {
		from = max(from, phi+1-r.q.Lo)
	}
	best, at := instance.Inf, instance.None
	for e := max(0, from); e < r.n; e++ {
		c := v[e] + r.W.Spacing*float64(max(0, e-d-pref))
		if c < best {
			best, at = c, e
		}
	}
	return best, at
}

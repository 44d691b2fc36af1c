// Package compact is the whole season as one integer program, written out: the definition that the rest
// is tested against, what small seasons are solved by, and MPS for other solvers.
package compact

import (
	"fmt"
	"math"

	"primaprova/model"
	"primaprova/solver/instance"
	"primaprova/solver/mip"
)

// Program is the season's integer program written out in full: its definition,
// against which every quicker method is judged. With
//
//	x(i,k,d)           1 if visit k of passage i lies on day d
//	l(w,d) r(w,d) b(w,d)  1 if part w's listening, read-through, return to the recordings lies on day d
//	f(w,d)             1 if the first round of part w ends with day d
//
// and capital letters for running sums, X(i,k,d) = Σ over e ≤ d of x(i,k,e) ("it
// lies on day d or before"), X(i,k) for the sum over all days ("it is placed"),
// the rules are
//
//	once      X(i,k) ≤ 1, L(w) ≤ 1, R(w) ≤ 1, B(w) ≤ 1, F(w) = 1
//	order     R(w,d) ≤ L(w,d)       X(i,1,d) ≤ R(w,d−1)       B(w,d) ≤ R(w,d−1)
//	          B(w,d) ≤ 1 − X(i,1) + X(i,1,d−1)
//	gap       X(i,k,d) ≤ X(i,k−1,d−least(k))
//	all once  X(i,1) − X(i,1,d) ≤ 1 − F(w,d)       X(i,3,d) ≤ F(w,d−1)
//	cap       Σ minutes·x + Σ minutes·r ≤ playing room of day d
//	passages  Σ x ≤ passages of day d
//	listening Σ minutes·l + Σ minutes·b ≤ listening room of day d
//	hours     Σ all minutes ≤ what the free hours of day d hold
//
// with variables for those days only on which the work may lie: window, rest
// days, days off, pins, no first visits on the day of a concert, the past. What is done already is a constant: a
// read-through done before has R = 1, a visit done before has its day.
//
// The wishes are five variables, each equal to a sum:
//
//	coverage  Σ value·(1 − placed)
//	ready-by  Σ over i, d > ready(i) of max(0, max over k of X(i,k) − X(i,k,d−1))
//	closeness Σ weight·|d − standing day|·x, likewise l, r, b
//	body      100·Σ max(0, p(d) − slack(d)) + 100·Σ max(0, p(d) + p(d+1) − pair(d))
//	          + Σ over weeks of max(0, 100·L(w) − (100+rise)·L(w−1) − 100·floor)
//	spacing   Σ over i, k > 1, d of max(0, X(i,k−1,d−preferred(k)) − X(i,k,d) − (1 − X(i,k)))
//	          + Σ over i, d < fresh(i) of max(0, max over k of X(i,k,d) − X(i,k+1))
//
// where p(d) is planned playing, L(w) a week's load, and X(i,K+1) = 0. Each max is
// a variable from 0 up. Running sums instead of days make order, gap, lateness and
// waiting tight: as rows over two or three sums they describe what the whole
// numbers between them allow, which rows over days do not.
//
// Everything is whole once the 0/1 variables are, so CP-SAT takes the same
// program as it stands.
type Program struct {
	P *instance.Instance
	M *mip.Model

	listen, read, rec []track   // by part
	phi               []track   // by part; empty where no third visit waits for a first one
	Visits            [][]track // by passage and visit
	On                []daySum  // by day

	Wishes [5]mip.Var
	defs   []definition // in the order in which they can be computed
}

// track is something that lies on at most one day: a run of days with the
// running sum of its 0/1 variables on each.
type track struct {
	lo int
	by []mip.Var // by[d-lo]: 1 if it lies on day d or before; none before the first possible day
}

// Write states an instance as one integer program.
func Write(p *instance.Instance) *Program {
	w := WriteRules(p, true)
	w.coverage()
	w.readyBy()
	w.closeness()
	w.body()
	w.spacing()
	w.weigh()
	return w
}

// WriteRules states the rules alone; that of the stages' order, if it is kept.
func WriteRules(p *instance.Instance, ordered bool) *Program {
	w := &Program{P: p, M: mip.New(p.Season.Title)}
	w.days()
	if ordered {
		w.inOrder()
	}
	w.keepGaps()
	w.allOnce()
	w.gather()
	w.keepCap()
	w.keepPassages()
	w.keepListening()
	w.keepHours()
	return w
}

// days makes the 0/1 variables, on the days on which each piece may lie.
func (w *Program) days() {
	p := w.P
	for i := range p.Parts {
		q := &p.Parts[i]
		stage := func(n, minutes, lo, hi int, fits func(d, minutes int) bool) track {
			if minutes == 0 {
				return track{}
			}
			return w.track("by", model.StageID(q.Work.Name, instance.Stages[n]), lo, hi, func(d int) bool {
				return q.Allowed(n, d) && (fits == nil && q.HearsAll(p.Room, d) || fits != nil && fits(d, minutes))
			})
		}
		w.listen = append(w.listen, stage(0, q.Listen, q.WinLo, q.WinHi, nil))
		w.read = append(w.read, stage(1, q.Read, q.WinLo, q.WinHi, p.Plays))
		w.rec = append(w.rec, stage(2, q.Rec, q.RecLo, q.RecHi, p.Hears))
		w.phi = append(w.phi, track{})
	}
	for i := range p.Passages {
		q := &p.Passages[i]
		tracks, lo := make([]track, len(q.Visits)), q.Lo
		for k := range q.Visits {
			v := &q.Visits[k]
			switch {
			case k > 0:
				lo += v.Least
			case q.Done > 0:
				lo = max(lo, q.Since+v.Least)
			}
			tracks[k] = w.track("by", fmt.Sprintf("%s,%d", q.Work.Name, q.Done+k+1), lo, q.Hi, func(d int) bool {
				return v.May(d) && p.Plays(d, v.Minutes) && p.Room[d].Visits > 0
			})
		}
		w.Visits = append(w.Visits, tracks)
	}
}

// track makes the running sums of something that may lie on some of the days
// lo..hi: one 0/1 variable for each possible day, and a row that lets no sum
// fall. A day on which it may not lie shares the variable of the day before.
func (w *Program) track(kind, name string, lo, hi int, may func(d int) bool) track {
	t := track{lo: lo}
	last := mip.Var(instance.None)
	for d := lo; d <= hi; d++ {
		if may(d) {
			label := fmt.Sprintf("[%s,%s]", name, w.day(d))
			v := w.M.Bool(kind+label, 0)
			if last != instance.None {
				w.M.Row("once"+label, 0, math.Inf(1), mip.Term{Var: v, Coef: 1}, mip.Term{Var: last, Coef: -1})
			}
			last = v
		}
		t.by = append(t.by, last)
	}
	return t
}

// day names a day as dates are written.
func (w *Program) day(d int) string { return (w.P.Season.From + model.Date(d)).String() }

// upTo gives the running sum on day d, 0 before the first possible day.
func (t *track) upTo(d int) Sum {
	if d = min(d-t.lo, len(t.by)-1); d < 0 || t.by[d] == instance.None {
		return Sum{}
	}
	return Sum{Terms: []mip.Term{{Var: t.by[d], Coef: 1}}}
}

// Placed gives the sum over all days.
func (t *track) Placed() Sum { return t.upTo(math.MaxInt32) }

// possible tells whether it may lie on day d at all.
func (t *track) possible(d int) bool {
	i := d - t.lo
	return i >= 0 && i < len(t.by) && t.by[i] != instance.None && (i == 0 || t.by[i] != t.by[i-1])
}

// on gives the 0/1 variable of day d as a difference of running sums.
func (t *track) on(d int) Sum {
	if !t.possible(d) {
		return Sum{}
	}
	return Sum{}.Plus(1, t.upTo(d)).Plus(-1, t.upTo(d-1))
}

// each calls f with every possible day.
func (t *track) each(f func(d int)) {
	for i := range t.by {
		if t.possible(t.lo + i) {
			f(t.lo + i)
		}
	}
}

// WriteDemand states the rules of an instance as an integer program in which
// everything has to be placed. Nil where something has no day at all.
func WriteDemand(p *instance.Instance, ordered bool) *Program {
	w := WriteRules(p, ordered)
	if !w.MustStages() {
		return nil
	}
	for i := range w.Visits {
		for k := range w.Visits[i] {
			if !w.Must(&w.Visits[i][k]) {
				return nil
			}
		}
	}
	return w
}

// Must has something placed, and tells whether it has a day at all.
func (w *Program) Must(t *track) bool {
	if len(t.by) == 0 || t.by[len(t.by)-1] == instance.None {
		return false
	}
	w.M.SetBounds(t.by[len(t.by)-1], 1, 1)
	return true
}

// MustStages has all stages placed that are wanted.
func (w *Program) MustStages() bool {
	for i := range w.P.Parts {
		q := &w.P.Parts[i]
		for n, t := range [3]*track{&w.listen[i], &w.read[i], &w.rec[i]} {
			if [3]int{q.Listen, q.Read, q.Rec}[n] > 0 && !w.Must(t) {
				return false
			}
		}
	}
	return true
}

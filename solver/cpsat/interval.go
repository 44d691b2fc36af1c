package cpsat

import (
	"cmp"
	"slices"
)

// Interval is a handle on a stretch of time: start, size and end, in whatever
// unit the model uses. It covers start..end, end excluded.
type Interval struct {
	m *Model
	// index is that of its constraint, by which others refer to it.
	index int32
	name  string
	least int64 // size
}

// Interval adds an interval. Start, size and end may each hold one variable at
// most. The engine's interval enforces nothing by itself, so start + size = end
// is added with it; a size that could be negative is a fault.
func (m *Model) Interval(name string, start, size, end Linear) Interval {
	return m.interval(name, start, size, end, nil)
}

// OptionalInterval adds an interval that is there only where present is true.
// Where it is not, its start, size and end are free, and it is in nothing's way.
func (m *Model) OptionalInterval(name string, start, size, end Linear, present Bool) Interval {
	return m.interval(name, start, size, end, []Bool{present})
}

// Task adds an interval of fixed size, whose end needs no variable.
func (m *Model) Task(name string, start Linear, size int64) Interval {
	return m.Interval(name, start, Const(size), Sum(start, Const(size)))
}

func (m *Model) interval(name string, start, size, end Linear, present []Bool) Interval {
	what := "interval " + label("c", name, len(m.constraints))
	m.checkText("an interval's name", name)
	s, z, e := m.affine(what+": start", start), m.affine(what+": size", size), m.affine(what+": end", end)
	when := m.literals(what, present, anyNumber)
	if m.err != nil {
		return Interval{m: m, name: name}
	}
	body := appendLinear(nil, 4, s)
	body = appendLinear(body, 5, e)
	body = appendLinear(body, 6, z)
	c := m.add(kindInterval, body).Named(name)
	m.constraints[c.i].when = when

	least, _, _ := m.reach(z)
	if least < 0 {
		if present == nil {
			m.fail("%s: its size may be %d", what, least)
		}
		m.Linear(size, From(0)).OnlyIf(present...).Named(name)
	}
	sum := Sum(start, size).AddTerm(-1, end)
	// A Task's sum is 0 = 0, which would only be noise in the bytes.
	if terms, _ := sum.canon(); len(terms) > 0 || sum.constant != 0 {
		m.Linear(sum, Range(0, 0)).OnlyIf(present...).Named(name)
	}
	return Interval{m, int32(c.i), name, least}
}

// NoOverlap adds: no two of the intervals share a moment. Each may be given
// once. An interval of size 0 may not lie strictly inside another.
func (m *Model) NoOverlap(intervals ...Interval) Constraint {
	what := "constraint " + label("c", "", len(m.constraints))
	indices := make([]int32, 0, len(intervals))
	for _, i := range intervals {
		if !m.has(what, i) {
			return Constraint{}
		}
		indices = append(indices, i.index)
	}
	if indices = sortedUnique(indices); len(indices) < len(intervals) {
		m.fail("%s: an interval is given twice", what)
	}
	return m.add(kindNoOverlap, appendPacked(nil, 1, indices))
}

// Demand is how much of a capacity an interval takes while it lasts.
type Demand struct {
	Of     Interval
	Amount int64 // from 0 to the capacity
}

// Cumulative adds: at every moment the demands of the intervals that cover it
// sum to at most capacity, which is not negative. Each interval may be given
// once, and lasts at least 1 if it is there.
//
// The engine takes more than this package lets it, and is of two minds about
// some of it. An interval of size 0 covers no moment, and yet is kept out at
// times: make it optional instead. Variables for capacity and demands make 9.15
// call some models infeasible that are not, where such a variable also says
// whether an interval is there. A demand that varies is better several optional
// intervals, and a capacity that varies a fixed one, part of which other
// intervals take.
func (m *Model) Cumulative(capacity int64, demands ...Demand) Constraint {
	what := "constraint " + label("c", "", len(m.constraints))
	if capacity < 0 || capacity > half {
		m.fail("%s: the capacity is %d, not within 0 and 2^62", what, capacity)
	}
	sorted := slices.Clone(demands)
	slices.SortFunc(sorted, func(a, b Demand) int { return cmp.Compare(a.Of.index, b.Of.index) })
	body := appendLinear(nil, 1, linear{constant: capacity})
	indices := make([]int32, len(sorted))
	var total int64
	for i, d := range sorted {
		if !m.has(what, d.Of) {
			return Constraint{}
		}
		if d.Of.least < 1 {
			m.fail("%s: the size of %s may be %d, and 1 is the least", what, d.Of.name, d.Of.least)
		}
		if d.Amount < 0 || d.Amount > capacity {
			m.fail("%s: the demand of %s is %d, not within 0 and the capacity %d", what, d.Of.name, d.Amount, capacity)
		}
		var ok bool
		if total, ok = plus(total, d.Amount); !ok || total > half {
			m.fail("%s: its demands sum to more than 2^62", what)
		}
		indices[i] = d.Of.index
		if i > 0 && indices[i-1] == indices[i] {
			m.fail("%s: interval %s is given twice", what, d.Of.name)
		}
	}
	body = appendPacked(body, 2, indices)
	for _, d := range sorted {
		body = appendLinear(body, 3, linear{constant: d.Amount})
	}
	return m.add(kindCumulative, body)
}

func (m *Model) has(what string, i Interval) bool {
	switch {
	case i.m == nil:
		m.fail("%s: an interval of no model", what)
	case i.m != m:
		m.fail("%s: interval %s belongs to another model", what, i.name)
	case m.err != nil:
		// The interval may itself be what failed: its index would mean nothing.
	default:
		return true
	}
	return false
}

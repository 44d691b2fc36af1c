package cpsat

// Interval is a handle on a stretch of time: start, size and end, in whatever
// unit the model uses. It covers start..end, end excluded.
type Interval struct {
	m *Model
	// index is that of its constraint, by which others refer to it.
	index int32
	name  string
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
	return Interval{m, int32(c.i), name}
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

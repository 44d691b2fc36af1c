package mip

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode"
)

// WriteMPS writes the model in free-format MPS, for any solver to read. The
// same model gives the same bytes: variables and rows come in order of
// insertion and numbers in their shortest exact form.
//
// What MPS cannot say is said in these ways. A blank inside a name becomes "_",
// and a name that is then taken gets "#" and its number. The offset is the
// negated right-hand side of the objective. A row without sides is a further N
// row, which readers leave out. Bounds are written in full wherever a
// reader's defaults are known to differ: whole variables without a bound (some
// take 0 to 1), and negative upper bounds (some then free the lower one).
func (m *Model) WriteMPS(w io.Writer) error {
	if m.err != nil {
		return m.err
	}
	// Errors of a bufio.Writer stick, so Flush reports the first of them.
	out := bufio.NewWriterSize(w, 1<<16)
	rowTaken := map[string]bool{"cost": true}
	rows := make([]string, m.Rows())
	fmt.Fprintf(out, "NAME %s\nROWS\n N cost\n", mpsWord(m.name))
	for i := range rows {
		rows[i] = mpsName(m.RowName(Row(i)), i, rowTaken)
		fmt.Fprintf(out, " %c %s\n", m.rowKind(Row(i)), rows[i])
	}
	vars := m.writeColumns(out, rows)
	m.writeSides(out, rows)
	m.writeBounds(out, vars)
	out.WriteString("ENDATA\n")
	return out.Flush()
}

// rowKind is the row's MPS letter. A row with two different sides is written
// from its lower one, with the distance under RANGES.
func (m *Model) rowKind(r Row) byte {
	lo, hi := m.rowLower[r], m.rowUpper[r]
	switch {
	case lo == hi:
		return 'E'
	case !math.IsInf(lo, -1):
		return 'G'
	case !math.IsInf(hi, 1):
		return 'L'
	}
	return 'N'
}

func (m *Model) writeColumns(out *bufio.Writer, rows []string) (vars []string) {
	start, index, value := m.Columns()
	taken := make(map[string]bool, m.Vars())
	vars = make([]string, m.Vars())
	whole := false
	markers := 0
	mark := func(kind string) {
		fmt.Fprintf(out, " M%d 'MARKER' '%s'\n", markers, kind)
		markers++
	}
	out.WriteString("COLUMNS\n")
	for i := range vars {
		v := Var(i)
		vars[i] = mpsName(m.Name(v), i, taken)
		if m.integer[v] != whole {
			whole = m.integer[v]
			if whole {
				mark("INTORG")
			} else {
				mark("INTEND")
			}
		}
		// A variable without any entry is still to be named here, hence the
		// zero cost.
		if m.cost[v] != 0 || start[i] == start[i+1] {
			writeEntry(out, vars[i], "cost", m.cost[v])
		}
		for at := start[i]; at < start[i+1]; at++ {
			writeEntry(out, vars[i], rows[index[at]], value[at])
		}
	}
	if whole {
		mark("INTEND")
	}
	return vars
}

func (m *Model) writeSides(out *bufio.Writer, rows []string) {
	out.WriteString("RHS\n")
	if m.offset != 0 {
		writeEntry(out, "RHS", "cost", -m.offset)
	}
	for i := range rows {
		side := m.rowLower[i]
		switch m.rowKind(Row(i)) {
		case 'N':
			continue
		case 'L':
			side = m.rowUpper[i]
		}
		if side != 0 {
			writeEntry(out, "RHS", rows[i], side)
		}
	}
	section := "RANGES\n"
	for i := range rows {
		lo, hi := m.rowLower[i], m.rowUpper[i]
		if lo != hi && finite(lo) && finite(hi) {
			out.WriteString(section)
			section = ""
			writeEntry(out, "RANGE", rows[i], hi-lo)
		}
	}
}

func (m *Model) writeBounds(out *bufio.Writer, vars []string) {
	section := "BOUNDS\n"
	bound := func(kind, name string, value ...float64) {
		out.WriteString(section)
		section = ""
		out.WriteString(" " + kind + " BOUND " + name)
		for _, x := range value {
			out.WriteString(" " + number(x))
		}
		out.WriteString("\n")
	}
	for i, name := range vars {
		lo, hi := m.lower[i], m.upper[i]
		noLo, noHi := math.IsInf(lo, -1), math.IsInf(hi, 1)
		switch {
		case noLo && noHi:
			bound("FR", name)
			continue
		case lo == hi:
			bound("FX", name, lo)
			continue
		case noLo:
			bound("MI", name)
		case lo != 0 || hi < 0:
			bound("LO", name, lo)
		}
		if !noHi {
			bound("UP", name, hi)
		} else if m.integer[i] {
			bound("PL", name)
		}
	}
}

func writeEntry(out *bufio.Writer, first, second string, value float64) {
	out.WriteByte(' ')
	out.WriteString(first)
	out.WriteByte(' ')
	out.WriteString(second)
	out.WriteByte(' ')
	out.WriteString(number(value))
	out.WriteByte('\n')
}

func number(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

// mpsName returns a name no earlier one has, and takes it.
func mpsName(name string, number int, taken map[string]bool) string {
	name = mpsWord(name)
	for taken[name] {
		name += "#" + strconv.Itoa(number)
	}
	taken[name] = true
	return name
}

// mpsWord makes one field of a name: blanks would end it, and a leading "$" or
// "*" starts a comment for some readers.
func mpsWord(name string) string {
	name = strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || unicode.IsControl(r) {
			return '_'
		}
		return r
	}, name)
	if strings.HasPrefix(name, "$") || strings.HasPrefix(name, "*") {
		name = "_" + name[1:]
	}
	return name
}

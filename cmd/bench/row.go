package main

import (
	"fmt"
	"io"
	"math"
	"os"
	"slices"
	"strconv"

	"golang.org/x/term"

	"primaprova/io/table"
	"primaprova/model"
)

// row is one line of the table. What was not measured is 0 and stays empty.
type row struct {
	group, what string
	first       float64 // seconds to the first audited plan
	seconds     float64 // wall clock, all in all
	cpu         float64 // processor seconds
	megabytes   float64 // peak memory of the process
	left        int     // sessions left out
	wishes      []model.WishValue
	note        string
}

var columns = []table.Column{
	{Name: "group"}, {Name: "what", Wraps: true}, {Name: "first s", Right: true}, {Name: "seconds", Right: true}, {Name: "cpu s", Right: true},
	{Name: "MB", Right: true}, {Name: "left out", Right: true},
	{Name: "coverage", Right: true}, {Name: "ready-by", Right: true}, {Name: "closeness", Right: true}, {Name: "body", Right: true}, {Name: "spacing", Right: true},
	{Name: "note", Wraps: true},
}

// cells writes a wish as value/bound and by how much the value is above it.
func (r *row) cells() []string {
	out := []string{r.group, r.what, number(r.first, 2), number(r.seconds, 2), number(r.cpu, 2), number(r.megabytes, 0), ""}
	if len(r.wishes) > 0 {
		out[6] = strconv.Itoa(r.left)
	}
	for i := range model.Wishes {
		if i < len(r.wishes) {
			out = append(out, wishCell(r.wishes[i]))
		} else {
			out = append(out, "")
		}
	}
	return append(out, r.note)
}

func number(x float64, digits int) string {
	if x == 0 {
		return ""
	}
	return strconv.FormatFloat(x, 'f', digits, 64)
}

func wishCell(w model.WishValue) string {
	switch {
	case w.Value == 0:
		return "0"
	case w.Bound == 0: // nothing is proven but that no wish is below 0
		return fmt.Sprintf("%.6g/0", w.Value)
	}
	return fmt.Sprintf("%.6g/%.6g +%s", w.Value, w.Bound, percent(gap(w)))
}

// gap gives how far a wish is above its bound, as a share of the bound; above
// a bound of 0 no share can say it, and it is infinite.
func gap(w model.WishValue) float64 {
	if w.Value == w.Bound {
		return 0
	}
	return (w.Value - w.Bound) / w.Bound
}

func percent(share float64) string {
	if math.IsInf(share, 1) {
		return "unproven"
	}
	return fmt.Sprintf("%.1f%%", 100*share)
}

// add puts a row into the table.
func (b *bench) add(r row) { b.rows = append(b.rows, r) }

// summed puts the median and the worst of reports into the table.
func (b *bench) summed(group, what string, all []report, failed int) {
	if len(all) == 0 {
		return
	}
	mid, worst := row{group: group, what: what + "median"}, row{group: group, what: what + "worst"}
	over := func(get func(*report) float64) (float64, float64) {
		var x []float64
		for i := range all {
			x = append(x, get(&all[i]))
		}
		return median(x), slices.Max(x)
	}
	mid.first, worst.first = over(func(r *report) float64 { return r.First })
	mid.seconds, worst.seconds = over(func(r *report) float64 { return r.Seconds })
	mid.cpu, worst.cpu = over(func(r *report) float64 { return r.CPU })
	mid.megabytes, worst.megabytes = over(func(r *report) float64 { return r.Megabytes })
	mid.note, worst.note = "gaps:", fmt.Sprintf("%d failed; gaps:", failed)
	for _, w := range model.Wishes {
		m, x := over(func(r *report) float64 { return gap(r.Wishes[w]) })
		mid.note += fmt.Sprintf(" %s %s", w, percent(m))
		worst.note += fmt.Sprintf(" %s %s", w, percent(x))
	}
	if m, x := over(func(r *report) float64 { return r.Moved }); x > 0 {
		mid.note += fmt.Sprintf("; moved %s", percent(m))
		worst.note += fmt.Sprintf("; moved %s", percent(x))
	}
	b.add(mid)
	b.add(worst)
}

// doing tells what is being measured, to whoever sits at a terminal.
func (b *bench) doing(format string, args ...any) {
	if b.live {
		fmt.Fprintf(os.Stderr, "\r\x1b[K%s", fmt.Sprintf(format, args...))
	}
}

func (b *bench) print(out *os.File) error {
	if b.live {
		fmt.Fprint(os.Stderr, "\r\x1b[K")
	}
	return b.write(out, terminalWidth(out))
}

func (b *bench) write(out io.Writer, width int) error {
	t := table.Table{Columns: columns}
	for i := range b.rows {
		t.Row(b.rows[i].cells()...)
	}
	return t.Write(out, width)
}

// terminalWidth gives 0 off a terminal: the table is tab-separated there.
func terminalWidth(f *os.File) int {
	if !term.IsTerminal(int(f.Fd())) {
		return 0
	}
	if n, _, err := term.GetSize(int(f.Fd())); err == nil && n > 0 {
		return n
	}
	return 80
}

// median gives the middle value, the upper one of two.
func median(x []float64) float64 {
	if len(x) == 0 {
		return 0
	}
	x = slices.Sorted(slices.Values(x))
	return x[len(x)/2]
}

package table

import (
	"bufio"
	"bytes"
	"io"
	"strings"
	"unicode"

	"github.com/olekukonko/tablewriter"
	"github.com/olekukonko/tablewriter/renderer"
	"github.com/olekukonko/tablewriter/tw"
)

// Column is one column of a table.
type Column struct {
	Name  string
	Right bool // numbers: set against the right edge
	Wraps bool // gives way, over several lines, when the rows are too wide
	From  int  // shown in this width and above, and when tab-separated; 0: always
}

// Table is a heading and its rows. A row shorter than Columns is filled up
// with empty cells.
type Table struct {
	Columns []Column
	Rows    [][]string
}

// Row adds one row.
func (t *Table) Row(cells ...string) { t.Rows = append(t.Rows, cells) }

const (
	gap        = 2  // blanks between two columns
	leastWrap  = 12 // a column that wraps keeps at least this width
	narrowWrap = 6  // and where that is too much, this
)

// Write lays the table out in at most `width` columns of a terminal, as far as
// the columns that wrap allow it. With a width of 0 it writes tab-separated
// lines, the heading first, with tabs and line ends inside cells turned into
// blanks.
func (t *Table) Write(w io.Writer, width int) error {
	if width <= 0 {
		return t.plain(w)
	}
	t = t.within(width)
	widths := t.fit(width)
	var buf bytes.Buffer
	tab := tablewriter.NewTable(&buf, options(t.Columns, widths)...)
	heading := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		heading[i] = c.Name
	}
	tab.Header(heading)
	for _, r := range t.Rows {
		cells := t.filled(r)
		for i, c := range t.Columns {
			if c.Wraps { // the library's own wrapping loses what is wide
				cells[i] = strings.Join(Wrap(cells[i], widths[i]), "\n")
			}
		}
		if err := tab.Append(cells); err != nil {
			return err
		}
	}
	if err := tab.Render(); err != nil {
		return err
	}
	return trimmed(w, &buf)
}

func options(columns []Column, widths []int) []tablewriter.Option {
	align := make([]tw.Align, len(columns))
	pads := make([]tw.Padding, len(columns))
	most := tw.NewMapper[int, int]()
	for i, c := range columns {
		align[i] = tw.AlignLeft
		if c.Right {
			align[i] = tw.AlignRight
		}
		pads[i] = tw.Padding{Right: strings.Repeat(" ", gap), Overwrite: true}
		most.Set(i, widths[i]+gap)
	}
	cell := tw.CellConfig{
		Formatting:   tw.CellFormatting{AutoWrap: tw.WrapNone, AutoFormat: tw.Off},
		Alignment:    tw.CellAlignment{Global: tw.AlignLeft, PerColumn: align},
		Padding:      tw.CellPadding{PerColumn: pads},
		ColMaxWidths: tw.CellWidth{PerColumn: most},
	}
	return []tablewriter.Option{
		tablewriter.WithConfig(tablewriter.Config{
			Header: cell, Row: cell,
			Widths:   tw.CellWidth{PerColumn: most},
			Behavior: tw.Behavior{TrimSpace: tw.Off},
		}),
		tablewriter.WithRenderer(renderer.NewBlueprint(tw.Rendition{
			Borders:  tw.BorderNone,
			Symbols:  tw.NewSymbols(tw.StyleNone),
			Settings: tw.Settings{Lines: tw.LinesNone, Separators: tw.SeparatorsNone},
		})),
		// The reader's language setting must not change how wide a letter counts.
		tablewriter.WithEastAsian(tw.Off),
	}
}

// within gives the table without the columns that a width has no room for.
func (t *Table) within(width int) *Table {
	out := &Table{Rows: make([][]string, len(t.Rows))}
	for i, c := range t.Columns {
		if c.From > width {
			continue
		}
		out.Columns = append(out.Columns, c)
		for j, r := range t.Rows {
			out.Rows[j] = append(out.Rows[j], t.filled(r)[i])
		}
	}
	return out
}

// fit gives each column its natural width, and takes from the widest column
// that wraps until the rows fit.
func (t *Table) fit(width int) []int {
	out := make([]int, len(t.Columns))
	for i, c := range t.Columns {
		out[i] = Width(c.Name)
	}
	for _, r := range t.Rows {
		for i, c := range t.filled(r) {
			out[i] = max(out[i], Width(c))
		}
	}
	for _, least := range []int{leastWrap, narrowWrap} {
		for {
			sum, widest := gap*(len(out)-1), -1
			for i, c := range t.Columns {
				sum += out[i]
				if c.Wraps && out[i] > least && (widest < 0 || out[i] > out[widest]) {
					widest = i
				}
			}
			if sum <= width {
				return out
			}
			if widest < 0 {
				break
			}
			out[widest]--
		}
	}
	return out
}

func (t *Table) filled(row []string) []string {
	out := make([]string, len(t.Columns))
	copy(out, row)
	return out
}

func (t *Table) plain(w io.Writer) error {
	b := bufio.NewWriter(w)
	for _, row := range t.all() {
		b.WriteString(strings.Join(row, "\t"))
		b.WriteByte('\n')
	}
	return b.Flush()
}

func flat(r rune) rune {
	if unicode.IsControl(r) {
		return ' '
	}
	return r
}

// trimmed copies lines without the blanks at their ends.
func trimmed(w io.Writer, r *bytes.Buffer) error {
	b := bufio.NewWriter(w)
	for {
		line, err := r.ReadString('\n')
		if line != "" {
			b.WriteString(strings.TrimRight(line, " \n"))
			b.WriteByte('\n')
		}
		if err != nil {
			return b.Flush()
		}
	}
}

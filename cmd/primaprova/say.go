package main

import (
	"fmt"
	"io"
	"os"
	"strings"

	"golang.org/x/term"

	"primaprova/io/table"
	"primaprova/model"
)

// The voice of primaprova. Its rules:
//
//   - Results go to stdout, everything else to stderr. A result is what was asked
//     for: a table, a day sheet, a file's contents. Faults, warnings, progress and
//     hints are not.
//   - A fault is one line that begins with where it is: file:line: field: value:
//     what is wrong. All faults are said at once, never the first alone.
//   - A hint is a line of its own. It begins with "next:" and gives a command that
//     can be copied as it stands.
//   - On a terminal tables are laid out for its width. Off a terminal they are
//     tab-separated with ISO dates and bare minutes, and every other line of a
//     result begins with "# ", so that grep -v '^#' leaves the tables.
//   - Colour never carries meaning alone, and NO_COLOR turns it off.
//   - Short words, no exclamation marks, no praise. Nothing is promised about
//     health; what hurts is for a physician or physiotherapist.

// voice is how the program speaks.
type voice struct {
	out, err io.Writer
	width    int  // columns of the reader's terminal; 0: none, say it tab-separated
	colour   bool // on stdout
	live     bool // stderr is a terminal: progress may be shown
	errWidth int
	locale   model.Locale
	form     form
	formulas bool                     // cells of a CSV may begin like formulas
	given    func(hint string) string // adds the settings given to a hint; may be nil
	broken   error                    // the first failure to write a result
}

// form is what results are written as.
type form int

const (
	spoken     form = iota // to be read here, or tab-separated off a terminal
	inCSV                  // the tables alone, for a spreadsheet
	inMarkdown             // words and tables, to be put into a text elsewhere
)

// write sets the form of what follows.
func (v *voice) write(f form) {
	v.form, v.colour = f, false
	switch f {
	case inCSV:
		v.width = 0
	case inMarkdown:
		v.width = widest
	}
}

const widest = 1000 // nothing is broken over lines, and every column is there

const narrowest = 40 // no layout is tried below this width

func newVoice(stdout, stderr io.Writer) *voice {
	v := &voice{out: guard{stdout}, err: guard{stderr}, width: columns(stdout), errWidth: columns(stderr), locale: model.DefaultLocale()}
	v.live = v.errWidth > 0 && sequences(stderr.(*os.File))
	v.colour = v.width > 0 && sequences(stdout.(*os.File)) && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
	return v
}

// columns gives a terminal's width, 0 where the writer is none.
func columns(w io.Writer) int {
	f, ok := w.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return 0
	}
	n, _, err := term.GetSize(int(f.Fd()))
	if err != nil || n <= 0 {
		n = 80
	}
	return max(n, narrowest)
}

// plain tells whether results are for a program to read.
func (v *voice) plain() bool { return v.width == 0 }

func (v *voice) result(s string) {
	if _, err := io.WriteString(v.out, s); err != nil && v.broken == nil {
		v.broken = &trouble{code: exitInternal, err: fmt.Errorf("writing the result: %w", err)}
	}
}

// file gives the bytes of a file as a result: as they are, but on a terminal.
func (v *voice) file(b []byte) {
	if g, ok := v.out.(guard); ok && columns(g.w) == 0 {
		v.out = g.w
		defer func() { v.out = g }()
	}
	v.result(string(b))
}

// title says the heading of a result.
func (v *voice) title(format string, args ...any) {
	s := fmt.Sprintf(format, args...)
	switch {
	case v.form == inCSV:
	case v.form == inMarkdown:
		v.result("## " + table.InMarkdown(s) + "\n\n")
	case v.plain():
		v.result("# " + s + "\n")
	case v.colour:
		own(v.out, "\x1b[1m")
		v.result(strings.Join(wrap(s, v.width), "\n"))
		own(v.out, "\x1b[0m\n")
	default:
		v.result(strings.Join(wrap(s, v.width), "\n") + "\n")
	}
}

// line says one line of a result, over several lines where it is too long for
// the terminal.
func (v *voice) line(format string, args ...any) {
	s := fmt.Sprintf(format, args...)
	switch {
	case v.form == inCSV:
		return
	case v.form == inMarkdown:
		v.result(table.InMarkdown(s) + "\n\n")
		return
	case v.plain():
		v.result("# " + s + "\n")
		return
	}
	for _, l := range wrap(v.together().ReplaceAllStringFunc(s, hold), v.width) {
		v.result(strings.ReplaceAll(l, held, " ") + "\n")
	}
}

// space parts what is for people; programs need none.
func (v *voice) space() {
	if !v.plain() && v.form != inMarkdown { // where every block has its own
		v.result("\n")
	}
}

// table says a table.
func (v *voice) table(t *table.Table) {
	var b strings.Builder
	var err error
	switch v.form {
	case inCSV:
		err = t.CSV(&b, v.formulas)
	case inMarkdown:
		err = t.Markdown(&b)
		b.WriteByte('\n')
	default:
		err = t.Write(&b, v.width)
	}
	if err != nil && v.broken == nil {
		v.broken = err
	}
	v.result(b.String())
}

// aside says something that is no result.
func (v *voice) aside(format string, args ...any) {
	v.besides(fmt.Sprintf(format, args...))
}

// besides writes lines that are no result, broken at words on a terminal.
func (v *voice) besides(text string) {
	for line := range strings.SplitSeq(text, "\n") {
		if v.errWidth > 0 {
			line = strings.Join(wrap(line, v.errWidth), "\n")
		}
		fmt.Fprintln(v.err, line)
	}
}

// next gives the command that would naturally follow.
func (v *voice) next(format string, args ...any) {
	hint := fmt.Sprintf(format, args...)
	if v.given != nil {
		hint = v.given(hint)
	}
	fmt.Fprintf(v.err, "next: primaprova %s\n", hint)
}

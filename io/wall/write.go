package wall

import (
	"io"

	"primaprova/io/pdf"
	"primaprova/model"
)

// Sheet is a kind of page.
type Sheet string

// The kinds of page, and all of them in the order in which they are written.
const (
	Season Sheet = "season" // all days on one sheet, as long as they can be read there
	Months Sheet = "months" // a month a page
	Weeks  Sheet = "weeks"  // a week a page, with a box to tick for each session
	Stand  Sheet = "days"   // a day on a page or more that stand, in large type: for the music stand
	Parts  Sheet = "parts"  // each part's way from arrival to ready, and the weeks' load
)

// Sheets lists the kinds of page.
var Sheets = []Sheet{Season, Months, Weeks, Stand, Parts}

// Options says what is written and how. The zero Options writes the season and
// its months, lying, on the locale's paper.
type Options struct {
	Locale  model.Locale
	Sheets  []Sheet     // empty: the season and its months
	Large   model.Paper // of the season's and the parts' sheets; empty: the one above Locale.Paper
	Upright bool        // pages stand (portrait) in place of lying (landscape)
	Days    model.Range // pages that hold some of these days; zero: the whole season
	Font    []byte      // a TrueType font for letters that the built-in ones lack
	// Recorded is what the record says of sessions: those that are done are ticked.
	Recorded map[model.SessionDay]string
}

// Write writes a plan as a PDF; the history, which may be nil, says where tempos
// stand. It gives the letters that no font has, each
// once and in order, and those of scripts that need a shaper; a name with such
// letters gives way to its id or its number. A font that cannot be used is
// an error, and so is a paper without a size.
func Write(w io.Writer, s *model.Season, p *model.Plan, h *model.History, o Options) (missing []rune, err error) {
	if len(o.Font) > 0 {
		defer pdf.Broken(&err)
	}
	f, err := newFonts(o.Font)
	if err != nil {
		return nil, err
	}
	sheets, err := lay(f, s, p, h, o)
	if err != nil {
		return nil, err
	}
	return f.missing(), paint(w, f, s, p, sheets)
}

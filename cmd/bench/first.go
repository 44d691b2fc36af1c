package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"unicode"

	"primaprova/io/seasonfile"
)

// How long a new user has to type until there is a first plan of a season of one's own:
// nobody was timed. The keys are counted one by one, and reckoned by the keystroke-level
// model (Card, Moran and Newell, Communications of the ACM 23, 396-410, 1980, with the
// values of The Psychology of Human-Computer Interaction, 1983).
const (
	keySeconds    = 0.28 // a key, an average typist who is no secretary, 40 words of five letters a minute
	slowSeconds   = 0.60 // the same at 20 words a minute
	mindSeconds   = 1.35 // the model's M: what to put into a cell, what to type
	pointSeconds  = 1.50 // the model's P, H: to the mouse, and something chosen there
	lookupSeconds = 5.0  // to find a row's facts on the orchestra's sheet; no source
	wordsAMinute  = 238  // silent reading of English prose: Brysbaert, Journal of Memory and Language 109, 2019; from memory
)

// typing is what has to be typed.
type typing struct{ keys, thoughts, lookups, points, words int }

// source says on the page where the seconds are from.
const source = "; keystroke-level model, Card, Moran and Newell 1983: 0.28 s a key, 1.35 a thought; 5 s a row and 1.5 for the mouse: no source; 238 words a minute: Brysbaert 2019"

// limits are what a player may say of days and hours beside programmes, as lines
// of the season file.
const limits = `playing: {every day: 240 min, sunday: 120 min}
days_off: [2027-02-13]
tours: [2027-03-16..2027-03-18]
latest: {every day: "21:00"}
quiet: {every day: [13:00-14:30]}
hours: {every day: [09:00-13:00, 14:30-20:00], sunday: [10:00-12:00]}
busy: [lessons.ics]
`

// keysOf counts the keys of a text: one a character, and Shift besides for a capital.
func keysOf(text string) (n int) {
	for _, r := range text {
		n++
		if unicode.IsUpper(r) || strings.ContainsRune(`"_:{}`, r) {
			n++
		}
	}
	return n
}

// minutes reckons how long it takes, a key in so many seconds.
func (t typing) minutes(key float64) float64 {
	return (float64(t.keys)*key+mindSeconds*float64(t.thoughts)+lookupSeconds*float64(t.lookups)+pointSeconds*float64(t.points))/60 + float64(t.words)/wordsAMinute
}

func (t typing) String() string {
	return fmt.Sprintf("%d keys, %d thoughts, %d rows looked up: %.1f minutes at 40 words a minute, %.1f at 20", t.keys, t.thoughts, t.lookups, t.minutes(keySeconds), t.minutes(slowSeconds))
}

// first measures the way from nothing to a plan by a table: testdata/first/spring.csv,
// four programmes with 14 parts, 22 services and 18 passages.
func (b *bench) first() {
	const group = "first"
	failed := func(err error) { b.add(row{group: group, what: "the table", note: "FAILED: " + err.Error()}) }
	sheet, err := os.ReadFile("testdata/first/spring.csv")
	if err != nil {
		failed(err)
		return
	}
	manual, err := os.ReadFile("docs/manual.md")
	if err != nil {
		failed(err)
		return
	}
	if err := os.WriteFile(filepath.Join(b.folder, "spring.csv"), sheet, 0o600); err != nil {
		failed(err)
		return
	}
	table := typing{keys: keysOf(string(sheet))}
	for line := range strings.Lines(string(sheet)) {
		table.lookups++
		for cell := range strings.SplitSeq(strings.TrimSpace(line), ";") {
			if cell != "" {
				table.thoughts++
			}
		}
	}
	b.add(row{group: group, what: "the table in a spreadsheet, Tab and Return counted", note: table.String()})
	save := typing{keys: keysOf("spring.csv\n"), thoughts: 3, points: 6}
	b.add(row{group: group, what: "saved as CSV, by the spreadsheet's menu", note: save.String()})
	commands := typing{}
	for _, c := range []struct {
		typed string
		args  []string
	}{
		{"primaprova new --from-table spring.csv\nMy spring\nviolin\n\n", []string{"new", "--from-table", "spring.csv", "--title", "My spring", "--instrument", "violin"}},
		{"primaprova check\n", []string{"check"}}, {"primaprova plan\n", []string{"plan"}}, {"primaprova show\n", []string{"show"}},
	} {
		b.doing("first: %s", c.args[0])
		r, ok := b.processes(group, "primaprova "+c.args[0], 1, c.args, "PRIMAPROVA_TODAY=2027-01-11")
		if !ok {
			b.add(r)
			return
		}
		t := typing{keys: keysOf(c.typed), thoughts: strings.Count(c.typed, "\n")}
		commands.keys, commands.thoughts = commands.keys+t.keys, commands.thoughts+t.thoughts
		r.note = t.String()
		b.add(r)
	}
	_, chapter, _ := strings.Cut(string(manual), "\n## A season of your own\n")
	chapter, _, _ = strings.Cut(chapter, "\n## ")
	read := typing{words: len(strings.Fields(chapter))}
	b.add(row{group: group, what: "reading the manual's chapter", note: fmt.Sprintf("%d words: %.1f minutes", read.words, read.minutes(0))})
	all := typing{table.keys + save.keys + commands.keys, table.thoughts + save.thoughts + commands.thoughts, table.lookups, save.points, read.words}
	b.add(row{group: group, what: "all of it, from nothing", note: all.String() + source})
	own := typing{keys: keysOf(limits), thoughts: strings.Count(limits, ":"), lookups: strings.Count(limits, "\n"), points: 7}
	b.add(row{group: group, what: "seven lines of limits and hours of one's own, in the season file", note: own.String()})
	f, err := seasonfile.Read(filepath.Join(b.folder, "season.yaml"))
	if err != nil {
		failed(err)
		return
	}
	byHand := typing{}
	_, programmes, _ := strings.Cut(string(f.Source), "\nprogrammes:")
	programmes, _, _ = strings.Cut(programmes, "\n\n")
	for line := range strings.Lines(programmes) {
		byHand.keys += keysOf(strings.TrimLeft(line, " ")) + 1 // an editor keeps the indent
		byHand.thoughts += strings.Count(line, ":")
		byHand.lookups++
	}
	parts := 0
	for i := range f.Season.Programmes {
		parts += len(f.Season.Programmes[i].Parts)
	}
	b.add(row{group: group, what: fmt.Sprintf("the same %d programmes and %d parts written as YAML", len(f.Season.Programmes), parts), note: byHand.String()})
}

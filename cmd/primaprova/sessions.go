package main

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"primaprova/io/table"
	"primaprova/model"
)

// what says what to do in a few words, and which visit of how many it is.
func (w *view) what(s sessionView) (what, visit string) {
	if s.Passage == nil || s.Visit == nil || s.Visits == nil {
		return s.Word(), ""
	}
	what, visit = s.Bars, fmt.Sprintf("%d of %d", *s.Visit, *s.Visits)
	if n := w.nature(*s.Passage); n != "" {
		what += " (" + n + ")"
	}
	if w.say.width < phone {
		visit = fmt.Sprintf("%d/%d", *s.Visit, *s.Visits)
	}
	if *s.Visit == *s.Visits && *s.Visits > 1 {
		visit += " check"
	}
	return what, visit
}

// itemColumn heads the numbers by which record takes the sessions of a day.
const itemColumn = "item"

// sessionTable lists sessions with all that a program may want of them; those of
// one day with their numbers.
func (w *view) sessionTable(sessions []sessionView, ofADay bool) *table.Table {
	t := &table.Table{}
	if ofADay {
		t.Columns = append(t.Columns, table.Column{Name: itemColumn})
	}
	for _, n := range []string{"date", "start", "ends", "minutes", "stage", "part", "work", "passage", "visit", "visits"} {
		t.Columns = append(t.Columns, table.Column{Name: n})
	}
	told := slices.ContainsFunc(sessions, func(s sessionView) bool { return s.Do != "" })
	if told {
		t.Columns = append(t.Columns, table.Column{Name: "tempo"}, table.Column{Name: "do"})
	}
	recorded := slices.ContainsFunc(sessions, func(s sessionView) bool { return s.Recorded != "" })
	if recorded {
		t.Columns = append(t.Columns, table.Column{Name: "recorded"})
	}
	for _, s := range sessions {
		row := []string{s.Date.String(), "", "", fmt.Sprint(int(s.Minutes)), string(s.Stage), s.Part, s.Work, "", "", ""}
		if s.Start != nil {
			row[1] = s.Start.String()
		}
		if s.Ends != nil {
			row[2] = s.Ends.String()
		}
		if s.Passage != nil {
			row[7] = (*s.Passage)[strings.LastIndexByte(*s.Passage, '/')+1:]
		}
		if s.Visit != nil && s.Visits != nil {
			row[8], row[9] = fmt.Sprint(*s.Visit), fmt.Sprint(*s.Visits)
		}
		if told {
			tempo := ""
			if s.Tempo != nil {
				tempo = s.Tempo.String()
			}
			row = append(row, tempo, s.Do)
		}
		if recorded {
			row = append(row, s.Recorded)
		}
		if ofADay {
			row = append([]string{fmt.Sprint(s.Number)}, row...)
		}
		t.Row(row...)
	}
	return t
}

// called says a session's id in words, like Symphony in Slate, bars 45-61, visit 2
// of 4; of a visit that the season file no longer asks for without the number of all.
func (w *view) called(id string) string {
	at := strings.LastIndexByte(id, '/')
	if at < 0 {
		return id
	}
	name, last := id[:at], id[at+1:]
	number, isVisit := strings.CutPrefix(last, "visit-")
	if !isVisit {
		return w.ShortTitle(name) + ", " + last
	}
	words := w.passageCalled(name) + ", visit " + number
	if n := w.visitsOf(id, name); n > 0 {
		words += fmt.Sprintf(" of %d", n)
	}
	return words
}

// visitsOf gives how many visits a session was one of: as its sheet says, else as
// the season asks for; 0 where neither knows it.
func (w *view) visitsOf(id, passage string) int {
	for _, v := range w.OfPart(passage[:max(0, strings.LastIndexByte(passage, '/'))]) {
		if v.ID == id && v.Visits != nil {
			return *v.Visits
		}
	}
	if t := w.Stand(passage[:max(0, strings.LastIndexByte(passage, '/'))]); t != nil {
		for i := range t.Lacks {
			if t.Lacks[i].ID == id {
				return t.Lacks[i].Visits
			}
		}
	}
	if p := w.Passages[passage]; p != nil && w.Plan == nil {
		return len(p.Recipe)
	}
	return 0
}

// isoDate finds dates as files have them.
var isoDate = regexp.MustCompile(`\b\d{4}-\d\d-\d\d\b`)

// inWords says a text of the audit or the record to a player: sessions, passages and
// parts by what they are called, dates as the reader writes them.
func (w *view) inWords(text string) string {
	words := strings.Split(text, " ")
	for i, word := range words {
		id := strings.TrimRight(word, ".,:;")
		at := strings.LastIndexByte(id, '/')
		switch {
		case w.Parts[id] != nil:
			id = w.ShortTitle(id)
		case w.Passages[id] != nil:
			id = w.passageCalled(id)
		case at > 0 && (w.Parts[id[:at]] != nil || w.Passages[id[:at]] != nil):
			id = w.called(id)
		}
		words[i] = id + word[len(strings.TrimRight(word, ".,:;")):]
	}
	return isoDate.ReplaceAllStringFunc(strings.Join(words, " "), func(s string) string {
		d, err := model.ParseDate(s)
		if err != nil {
			return s
		}
		return w.say.locale.Day(d)
	})
}

// passageCalled says a passage's name in words.
func (w *view) passageCalled(name string) string {
	return w.ShortTitle(name[:max(0, strings.LastIndexByte(name, '/'))]) + ", " + w.Bars(name)
}

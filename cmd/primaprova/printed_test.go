package main

import (
	"bytes"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"primaprova/io/seasonfile"
	"primaprova/io/wall"
	"primaprova/model"
	"primaprova/model/invent"
	"primaprova/solver"
)

var (
	printedRest  = regexp.MustCompile(`rest\s+(\d+)\s+min`)
	printedStart = regexp.MustCompile(`(?m)(?:^|\s)(\d{1,2})\s+(\d\d:\d\d)\b`)
	printedTempo = regexp.MustCompile(`(once\s+)?\bat\s+(\d+(?:-\d+)?(?:\s+of\s+\d+)?(?:,\s+once\s+\d+)?)`)
	printedWeek  = regexp.MustCompile(`^Week (\d+, \d+)`)
)

// TestPrintedAsPlanned has another program read every week's sheets of the demo season
// and of three seasons in which not everything fits: each rest, each session's number
// with its start and each tempo is printed as often as it is planned, on days of the
// fullest weeks too, and no letter is under 7.5 points.
func TestPrintedAsPlanned(t *testing.T) {
	demo, err := seasonfile.Read(filepath.Join("..", "..", "testdata", "seasons", "demo", "season.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	seasons := []*model.Season{demo.Season}
	for seed := range uint64(3) {
		s := invent.Season(invent.Size{Weeks: 8, Programmes: 4, Parts: 4, Passages: 8, Lead: 25, Tightness: 1.3, Hours: true, Seed: seed})
		for i := range s.Programmes {
			for j := range s.Programmes[i].Parts {
				for k := range s.Programmes[i].Parts[j].Passages {
					if k%2 == 0 {
						s.Programmes[i].Parts[j].Passages[k].Tempo.Goal = model.Tempo(60 + 4*k)
					}
				}
			}
		}
		seasons = append(seasons, s)
	}
	for n, s := range seasons {
		p, err := solver.Greedy(s, solver.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if n > 0 && len(p.Unplaced) == 0 {
			t.Errorf("season %d is no crunch: everything has its place", n)
		}
		p.Renumber(nil, 0)
		var b bytes.Buffer
		l := model.DefaultLocale()
		if _, err := wall.Write(&b, s, p, nil, wall.Options{Locale: l, Sheets: []wall.Sheet{wall.Weeks}}); err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(t.TempDir(), "weeks.pdf")
		if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
		texts, least := pdfRead(t, path)
		printed, planned := map[string]int{}, map[string]int{}
		week := ""
		for i, text := range texts {
			if least[i] < 7.49 {
				t.Errorf("season %d, sheet %d has letters of %.2f points", n, i+1, least[i])
			}
			week = printedWeek.FindStringSubmatch(text)[1]
			for _, m := range printedRest.FindAllStringSubmatch(text, -1) {
				printed[week+": rest "+m[1]]++
			}
			for _, m := range printedStart.FindAllStringSubmatch(text, -1) {
				printed[week+": "+m[1]+" at "+m[2]]++
			}
			for _, m := range printedTempo.FindAllStringSubmatch(text, -1) {
				if m[1] == "" { // else it is among the words of what to do
					printed[week+": tempo "+strings.Join(strings.Fields(m[2]), " ")]++
				}
			}
		}
		var rests, starts, tempos int
		sheets := s.View(p, nil)
		for d := s.From; d <= s.To; d++ {
			year, number := l.ISOWeekOf(d)
			week := fmt.Sprintf("%d, %d", number, year)
			for _, line := range sheets.Sheet(d).Lines {
				if line.Session == nil {
					rests++
					planned[fmt.Sprintf("%s: rest %d", week, line.Rest)]++
					continue
				}
				starts++
				planned[fmt.Sprintf("%s: %d at %s", week, line.Session.Number, line.Session.Start)]++
				if line.Tempo != nil {
					tempos++
					planned[week+": tempo "+line.Tempo.String()]++
				}
			}
		}
		if !maps.Equal(printed, planned) {
			for k := range planned {
				if printed[k] != planned[k] {
					t.Errorf("season %d, week %s: printed %d times, planned %d", n, k, printed[k], planned[k])
				}
			}
			for k := range printed {
				if planned[k] == 0 {
					t.Errorf("season %d, week %s: is printed and not planned", n, k)
				}
			}
		}
		t.Logf("season %d: %d rests, %d starts, %d tempos on %d sheets", n, rests, starts, tempos, len(texts))
		if rests < 30 || starts < 100 || tempos < 10 {
			t.Errorf("season %d: only %d rests, %d starts, %d tempos", n, rests, starts, tempos)
		}
	}
}

package stand

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"primaprova/model"
	"primaprova/model/invent"
)

// aPlan fills an invented season as the tests need it: its own sessions one a day.
func aPlan(s *model.Season) *model.Plan {
	p := &model.Plan{}
	for _, w := range s.Wanted(nil) {
		if len(p.Sessions) == 3 {
			break
		}
		p.Sessions = append(p.Sessions, w.On(s.From))
	}
	s.FinishFrom(p, nil)
	p.Renumber(nil, s.From)
	return p
}

func TestStateOf(t *testing.T) {
	s := invent.Season(invent.Size{Weeks: 6, Programmes: 2, Parts: 2, Passages: 4, Lead: 20, Tightness: 0.4, Estimates: 0.5, Seed: 2})
	p := aPlan(s)
	var ids []string
	for i := range p.Sessions {
		if p.Sessions[i].Stage != model.WarmUpStage {
			ids = append(ids, p.Sessions[i].ID)
		}
	}
	part := model.PartName(s.Programmes[0].ID, s.Programmes[0].Parts[0].ID)
	events := []model.Event{
		{Entry: 1, Kind: model.Done, Date: s.From, Session: ids[0], Took: 12},
		{Entry: 2, ID: "phone-aa", Unseen: 1, Kind: model.NotDone, Date: s.From, Session: ids[0]},
		{Entry: 3, Kind: model.Done, Date: s.From, Session: "gone/part/1-4/visit-1"},
		{Entry: 4, ID: "phone-bb", Unseen: 4, Kind: model.Found, Date: s.From, Part: part, Bars: "901-904", Hard: 2},
		{Entry: 5, ID: "phone-cc", Unseen: 4, Kind: model.Pain, Date: s.From},
		{Entry: 6, ID: "phone-dd", Unseen: 6, Kind: model.Undo, Undoes: 5},
	}
	h, _ := s.Replay(events, p, model.Replaying{Today: s.From})
	st := StateOf(At{Season: s.With(h), Plan: p, History: h, Events: events, Unseen: 7, Today: s.From, Locale: model.DefaultLocale()})
	if len(st.Days) != ahead || st.Days[0].Date != s.From { // the day before lies outside
		t.Fatalf("%d days", len(st.Days))
	}
	day := st.Days[0]
	at := slices.IndexFunc(day.Lines, func(l Line) bool { return l.ID == ids[0] })
	if at < 0 || day.Lines[at].Said == nil || day.Lines[at].Said.Kind != model.Done || day.Lines[at].Said.Entry != "1" || day.Lines[at].Said.Minutes != 12 {
		t.Errorf("%+v", day.Lines)
	}
	for i, l := range day.Lines {
		if l.ID != "" && l.Number == 0 || l.Do == "" {
			t.Errorf("line %d: %+v", i, l)
		}
	}
	if day.Pain != "" || len(day.Found) != 1 || day.Found[0].Entry != "phone-bb" || len(day.Also) != 1 || day.Also[0].ID != "gone/part/1-4/visit-1" || len(day.Mind) == 0 || !strings.HasPrefix(day.Ahead, "In ") {
		t.Errorf("%+v", day)
	}
	b, err := json.Marshal(st)
	if err != nil || strings.Contains(string(b), ":null,\"found\"") || !strings.Contains(string(b), `"unseen":7`) {
		t.Errorf("%s, %v", b, err)
	}
	// A day of pain names the entry, so that a slip can be taken back.
	events = append(events, model.Event{Entry: 7, Kind: model.Pain, Date: s.From})
	h, _ = s.Replay(events, p, model.Replaying{Today: s.From})
	if st = StateOf(At{Season: s.With(h), Plan: p, History: h, Events: events, Today: s.From, Locale: model.DefaultLocale()}); st.Days[0].Pain != "7" || st.Days[0].Free != "day of pain" {
		t.Errorf("%+v", st.Days[0])
	}
}

func TestLettered(t *testing.T) {
	for bars, want := range map[string]bool{"C-E": true, "17 after C": true, "II 4 before D-6 after DD": true, "AA": true,
		"61-64": false, "II 61-64": false, "the end": false, "": false, "Coda": false} {
		if got := lettered([]model.PassageWork{{Passage: model.Passage{Bars: bars}}}); got != want {
			t.Errorf("%q: %v", bars, got)
		}
	}
}

// A number of a movement is one that stands before bars; each is said once.
func TestMoves(t *testing.T) {
	var passages []model.PassageWork
	for _, bars := range []string{"II 61-64", "II 70", "61-64", "Coda 1-8", "IV", "IX 1-2", " 5-6"} {
		passages = append(passages, model.PassageWork{Passage: model.Passage{Bars: bars}})
	}
	if got := moves(passages); !slices.Equal(got, []string{"II", "IX"}) {
		t.Errorf("%q", got)
	}
}

// The first rehearsal is called so, and nothing else: no later one, and no concert of its day.
func TestFirstOfItsDay(t *testing.T) {
	at := func(kind model.ServiceKind, d model.Date) model.Service {
		return model.Service{Kind: kind, Date: d, Start: 600, Lasts: 90}
	}
	s := &model.Season{From: 1, To: 30, Programmes: []model.Programme{{Title: "Tide",
		Services: []model.Service{at(model.Rehearsal, 15), at(model.Concert, 15), at(model.Rehearsal, 16)}}}}
	m := maker{View: &model.View{Season: s}, locale: model.DefaultLocale()}
	var said []string
	for _, d := range []model.Date{15, 16} {
		for _, line := range m.services(d) {
			_, what, _ := strings.Cut(line, " ")
			said = append(said, what)
		}
	}
	if !slices.Equal(said, []string{"first rehearsal, Tide", "concert, Tide", "rehearsal, Tide"}) {
		t.Errorf("%q", said)
	}
}

// What a programme begins with is named as what it is.
func TestBeginsWith(t *testing.T) {
	audition := model.Service{Kind: model.Audition, Date: 20, Start: 600, Lasts: 15}
	s := &model.Season{From: 1, To: 30, Programmes: []model.Programme{{Title: "Section", Services: []model.Service{audition}}}}
	m := maker{View: &model.View{Season: s}, locale: model.DefaultLocale()}
	if got := m.firstRehearsal(19); got != "Tomorrow: audition, Section" {
		t.Error(got)
	}
	if got := m.services(20); len(got) != 1 || !strings.HasSuffix(got[0], " audition, Section") {
		t.Error(got)
	}
	s.Programmes[0].Services = append(s.Programmes[0].Services, model.Service{Kind: model.Rehearsal, Date: 15, Start: 600, Lasts: 90})
	if got := m.firstRehearsal(12); got != "In 3 days: first rehearsal, Section" {
		t.Error(got)
	}
}

package page

import (
	"bytes"
	"math/rand/v2"
	"testing"
	"time"

	"primaprova/model"
	"primaprova/model/invent"
)

func ptr[T any](v T) *T { return &v }

// filled plans a season without any thought, so that every kind of session is
// somewhere and some are left out.
func filled(s *model.Season, r *rand.Rand) *model.Plan {
	p := &model.Plan{From: s.From, To: s.To}
	sums := map[model.Date]*model.Day{}
	for d := s.From; d <= s.To; d++ {
		room := s.RoomOn(d)
		sums[d] = &model.Day{Date: d, Cap: room.Cap, Services: room.Services, Rest: room.Rest}
	}
	add := func(x model.Session) {
		if r.IntN(9) == 0 && x.Part != "" {
			p.Unplaced = append(p.Unplaced, model.Unplaced{ID: x.ID, Stage: x.Stage, Part: x.Part, Passage: x.Passage, Visit: x.Visit, Minutes: x.Minutes})
			return
		}
		if s.HasHours() {
			start := model.Clock(9*60 + 5*r.IntN(100))
			x.Start, x.Ends = &start, ptr(start+model.Clock(x.Minutes))
		}
		switch {
		case x.Stage == model.WarmUpStage:
			sums[x.Date].WarmUp += x.Minutes
		case x.Playing:
			sums[x.Date].Planned += x.Minutes
		}
		p.Sessions = append(p.Sessions, x)
	}
	for _, w := range s.Work(nil) {
		at := func(n int) model.Date { return min(w.Window.From+model.Date(n), max(w.Window.From, w.Window.To), s.To) }
		add(model.Session{ID: model.StageID(w.Name, model.ListeningStage), Date: at(0), Minutes: 30, Stage: model.ListeningStage, Part: w.Name})
		add(model.Session{ID: model.WarmUpID(at(1)), Date: at(1), Minutes: 10, Stage: model.WarmUpStage, Playing: true})
		add(model.Session{ID: model.StageID(w.Name, model.ReadStage), Date: at(1), Minutes: 30, Stage: model.ReadStage, Playing: true, Part: w.Name})
		for _, ps := range w.Passages {
			for k, v := range ps.Recipe {
				add(model.Session{ID: model.VisitID(ps.Name, k+1), Date: at(2 + 3*k), Minutes: v.Minutes, Stage: model.PassageStage, Playing: true,
					Part: w.Name, Passage: ptr(ps.Name), Visit: ptr(k + 1), Visits: ptr(len(ps.Recipe))})
			}
		}
	}
	for d := s.From; d <= s.To; d++ {
		p.Days = append(p.Days, *sums[d])
	}
	return p
}

// awkward is a season with names of several scripts, long ones, and such as a
// browser might take for something else.
func awkward() (*model.Season, *model.Plan) {
	s := invent.Season(invent.Size{Weeks: 8, Programmes: 3, Parts: 3, Passages: 5, Lead: 30, Tightness: 0.5, Off: 0.1, Hours: true, Seed: 5})
	s.Title = `Čtyři moře & <b>"tides"</b>`
	for i, title := range []string{"Skjærgårdssymfoniensvannkantlandskapsbetraktninger", "Συμφωνία της θάλασσας και του ανέμου", "</style><script>alert(1)</script>"} {
		s.Programmes[i].Title = title
	}
	for i, work := range []string{"交響曲第一番「石板の海岸にて」長い題名の作品", "Bølgeslagsfjordvannkantlandskapsbetraktningersmåstykker", "Příliš žluťoučký kůň úpěl ďábelské ódy (Σόλων Ανέμου)"} {
		for j := range s.Programmes {
			s.Programmes[j].Parts[i].Work = work
		}
	}
	s.Programmes[0].Parts[0].Passages[0].Bars = "from the upbeat to the great lantern solo, 1234-1299, and once more"
	s.Programmes[0].Parts[0].Passages[0].Exposed = true
	return s, filled(s, rand.New(rand.NewPCG(1, 2)))
}

func written(t testing.TB, s *model.Season, p *model.Plan, o Options) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, s, p, nil, o); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func american() model.Locale {
	return model.Locale{Dates: model.MonthDay, FirstWeekday: time.Sunday, HalfDays: true}
}

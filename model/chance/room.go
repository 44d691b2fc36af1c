package chance

import "primaprova/model"

// dayRoom is what a day leaves for planned work.
type dayRoom struct {
	playing, listening, held float64
	visits                   int
	opens                    bool // takes first visits
}

// load is what stands on a day.
type load struct {
	playing, listening float64
	visits             int
}

// add puts a task of so many minutes on a day, or takes it off.
func (l *load) add(v *task, minutes float64, sign int) {
	if v.stage.Playing() {
		l.playing += float64(sign) * minutes
	} else {
		l.listening += float64(sign) * minutes
	}
	if v.visit > 0 {
		l.visits += sign
	}
}

// rooms fills in what services take and the days leave, what was done today already taken off.
func (t *table) rooms(s *model.Season, h *model.History, p *model.Plan, more map[model.Date]model.Minutes) {
	for d := range t.days {
		r := s.RoomOn(s.From + model.Date(d))
		playing, held := r.Playing, max(0, r.Held-r.WarmUp)
		if !r.Rest {
			over := max(0, r.Services+r.WarmUp-r.Cap) // what services take beyond the cap comes off first
			playing += max(0, more[r.Date]-over)
		}
		t.services = append(t.services, float64(r.Services))
		t.room = append(t.room, dayRoom{float64(playing), float64(r.Listening), float64(held), r.Passages, r.New})
	}
	if h == nil || t.today >= t.days {
		return
	}
	r := &t.room[t.today]
	for _, v := range s.Past(h, p) {
		if v.Date != h.Today || v.Stage == model.WarmUpStage {
			continue
		}
		m := float64(v.Minutes)
		switch {
		case !v.Stage.Playing():
			r.listening = max(0, r.listening-m)
		default:
			r.playing = max(0, r.playing-m)
		}
		if v.Stage == model.PassageStage {
			r.visits = max(0, r.visits-1)
		}
		r.held = max(0, r.held-m)
	}
}

package model

import (
	"slices"
	"testing"
)

// TestWarmUpAgain: what services and long pauses of a day add to its playing and
// take of its hours. Worked out by hand from docs/meaning.md, sections 4 and 5.2.
func TestWarmUpAgain(t *testing.T) {
	span := func(from, to int) Span { return Span{Clock(60 * from), Clock(60 * to)} }
	service := func(start, lasts int) Service {
		return Service{Kind: Rehearsal, Date: march(9), Start: Clock(60 * start), Lasts: Minutes(lasts), Playing: 50}
	}
	for _, c := range []struct {
		name     string
		hours    []Span
		services []Service
		again    Minutes // 0: the season asks for none
		played   Minutes // in services
		beside   Minutes // of 240, 10 of them for the warm-up
		free     []Span
	}{
		{"not asked for", []Span{span(9, 10), span(17, 18)}, []Service{service(12, 60)}, 0, 30, 200, []Span{span(9, 10), span(17, 18)}},
		{"a long pause", []Span{span(9, 10), span(13, 14)}, nil, 5, 0, 225, []Span{span(9, 10), {790, 840}}},
		{"a shorter one", []Span{span(9, 11), span(13, 14)}, nil, 5, 0, 230, []Span{span(9, 11), span(13, 14)}},
		{"a service in the pause: it is warmed up for", []Span{span(9, 10), span(15, 16)}, []Service{service(12, 60)}, 5, 35, 195, []Span{span(9, 10), span(15, 16)}},
		{"long after the service, too", []Span{span(9, 10), span(17, 18)}, []Service{service(12, 60)}, 5, 35, 190, []Span{span(9, 10), {1030, 1080}}},
		{"two services close together, one warming up", []Span{span(9, 10)}, []Service{service(12, 60), service(15, 60)}, 5, 65, 0, []Span{span(9, 10)}},
		{"two far apart, two", []Span{span(9, 10)}, []Service{service(12, 60), service(16, 60)}, 5, 70, 0, []Span{span(9, 10)}},
		{"longer than the way there", []Span{span(9, 12)}, []Service{service(12, 60)}, 40, 70, 160, []Span{{540, 680}}},
	} {
		s, _ := fixture()
		s.Limits = DefaultLimits()
		s.Limits.Playing.Every, s.Limits.WarmUpAgain = 240, c.again
		s.Hours.Every = c.hours
		s.Programmes[0].Services = c.services
		if r := s.RoomOn(march(9)); r.Services != c.played || r.Beside != c.beside {
			t.Errorf("%s: %v in services and %v beside, want %v and %v", c.name, r.Services, r.Beside, c.played, c.beside)
		}
		if got := s.Free(march(9)); !slices.Equal(got, c.free) {
			t.Errorf("%s: free %v, want %v", c.name, got, c.free)
		}
	}
}

// TestWarmUpsAgain: playing on both sides of a long pause asks for it, right before
// the rest that comes before playing; listening does not, nor one side alone.
func TestWarmUpsAgain(t *testing.T) {
	at := func(start Clock, stage Stage) *Session {
		ends := start + 10
		return &Session{Start: &start, Ends: &ends, Minutes: 10, Stage: stage, Playing: stage.Playing()}
	}
	for _, c := range []struct {
		name     string
		sessions []*Session
		want     []Span
	}{
		{"both sides", []*Session{at(540, WarmUpStage), at(550, PassageStage), at(1030, PassageStage)}, []Span{{1020, 1025}}},
		{"later in the evening", []*Session{at(540, WarmUpStage), at(1060, PassageStage)}, []Span{{1050, 1055}}},
		{"the morning alone", []*Session{at(540, WarmUpStage), at(550, PassageStage)}, nil},
		{"the evening alone has the day's warm-up", []*Session{at(1030, WarmUpStage), at(1040, PassageStage)}, nil},
		{"listening in the morning", []*Session{at(540, ListeningStage), at(1030, WarmUpStage)}, nil},
	} {
		s, _ := fixture()
		s.Limits = DefaultLimits()
		s.Limits.WarmUpAgain = 5
		s.Hours.Every = []Span{{540, 600}, {1020, 1110}}
		if got := s.WarmUpsAgain(march(9), c.sessions); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

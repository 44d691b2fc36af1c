package model

import (
	"testing"
	"time"
)

func TestFreeDaysHaveAWord(t *testing.T) {
	s := &Season{From: march(1), To: march(28)}
	s.Limits = Limits{RestDays: []time.Weekday{time.Monday}, DaysOff: []Range{{march(6), march(7)}}, Tours: []Range{{march(15), march(16)}}}
	h := &History{Days: map[Date]DayNote{march(6): Lost, march(10): Light, march(22): Lost}}
	for day, want := range map[int]string{1: "rest day", 2: "", 6: "lost", 7: "day off", 10: "", 15: "on tour", 16: "on tour", 22: "lost"} {
		if got := s.With(h).RestWord(march(day), h); got != want {
			t.Errorf("%v: %q, not %q", march(day), got, want)
		}
	}
	if got := s.RestWord(march(6), nil); got != "day off" {
		t.Errorf("without a record: %q", got)
	}
}

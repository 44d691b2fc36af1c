package model

import "slices"

// Marks say what makes a day other than others. A day may have several.
type Marks uint8

// The marks.
const (
	ConcertDay    Marks = 1 << iota // a concert is on this day
	BeforeConcert                   // and none on this day, but one on the next
	TwoServices                     // two services or more
	OnTour
	AfterTimeOff // the cap still rises after days off, illness or pain
	LightDay     // light after pain
)

// Has tells whether all the given marks are set.
func (m Marks) Has(o Marks) bool { return m&o == o }

// Words gives the marks as they are said to the player.
func (m Marks) Words() (out []string) {
	for i, word := range []string{"concert", "concert tomorrow", "two services", "on tour", "on the way back after time off", "light after pain"} {
		if m.Has(1 << i) {
			out = append(out, word)
		}
	}
	return out
}

// mark sees to it that services and time off shape the day's room: they set
// its marks, lower its cap and bar first visits.
func (s *Season) mark(r *Room, services []Service) {
	l := &s.Limits
	if len(slices.DeleteFunc(slices.Clone(services), func(v Service) bool { return v.Missed })) >= 2 {
		r.Marks |= TwoServices
	}
	if inAny(l.Tours, r.Date) {
		r.Marks |= OnTour
	}
	switch {
	case anyConcert(services):
		r.Marks |= ConcertDay
		r.New = l.NewOnConcerts
	case anyConcert(s.ServicesOn(r.Date + 1)):
		r.Marks |= BeforeConcert
		r.Cap = r.Cap * Minutes(l.BeforeConcert) / 100
	}
	if most, back := s.returning(r.Date); back && most < r.Cap {
		r.Marks |= AfterTimeOff
		r.Cap = most
	}
}

func anyConcert(services []Service) bool {
	for _, v := range services {
		if !v.Kind.Rehearses() && !v.Missed {
			return true
		}
	}
	return false
}

package instance

import (
	"math"
	"slices"

	"primaprova/model"
)

// Usage is what is taken of the days already, by day: minutes of playing and of
// listening, and visits. Of a plan they are whole, of a spread plan they need not
// be.
type Usage struct{ Playing, Listening, Visits []float64 }

// Usage gives what a solution takes of the days.
func (s *Solution) Usage() Usage {
	t := Usage{make([]float64, s.P.Days), make([]float64, s.P.Days), make([]float64, s.P.Days)}
	for d := range s.Planned {
		t.Playing[d], t.Listening[d], t.Visits[d] = float64(s.Planned[d]), float64(s.Listen[d]), float64(s.Visits[d])
	}
	return t
}

// Place adds a passage's schedule with a weight.
func (t Usage) Place(q *Passage, days []Day, weight float64) {
	for n, d := range days {
		t.Playing[d] += weight * float64(q.Visits[n].Minutes)
		t.Visits[d] += weight
	}
}

// Clone gives what can be added to while the other stays.
func (t Usage) Clone() Usage {
	return Usage{slices.Clone(t.Playing), slices.Clone(t.Listening), slices.Clone(t.Visits)}
}

// Rounded gives the playing in whole minutes.
func (t Usage) Rounded() []model.Minutes {
	out := make([]model.Minutes, len(t.Playing))
	for d, m := range t.Playing {
		out[d] = model.Minutes(math.Round(m))
	}
	return out
}

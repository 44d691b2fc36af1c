package solver

import (
	"math"
	"slices"

	"primaprova/model"
)

// taken is what is taken of the days already, by day: minutes of playing and of
// listening, and visits. Of a plan they are whole, of a spread plan they need not
// be.
type taken struct{ playing, listening, visits []float64 }

// taken gives what a state takes of the days.
func (s *state) taken() taken {
	t := taken{make([]float64, s.p.days), make([]float64, s.p.days), make([]float64, s.p.days)}
	for d := range s.planned {
		t.playing[d], t.listening[d], t.visits[d] = float64(s.planned[d]), float64(s.listen[d]), float64(s.visits[d])
	}
	return t
}

// place adds a passage's schedule with a weight.
func (t taken) place(q *passage, days []int16, weight float64) {
	for n, d := range days {
		t.playing[d] += weight * float64(q.visits[n].minutes)
		t.visits[d] += weight
	}
}

// clone gives what can be added to while the other stays.
func (t taken) clone() taken {
	return taken{slices.Clone(t.playing), slices.Clone(t.listening), slices.Clone(t.visits)}
}

// rounded gives the playing in whole minutes.
func (t taken) rounded() []model.Minutes {
	out := make([]model.Minutes, len(t.playing))
	for d, m := range t.playing {
		out[d] = model.Minutes(math.Round(m))
	}
	return out
}

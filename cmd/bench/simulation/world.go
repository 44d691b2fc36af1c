package simulation

import (
	"hash/fnv"
	"math"
	"math/rand/v2"
	"strconv"

	"primaprova/model"
)

// World says how far reality is from the season file.
type World struct {
	Seed  uint64
	Long  float64 // what a session takes of its estimate, on average
	Noise float64 // spread of that, as the standard deviation of its logarithm
	Lost  float64 // chance that a day is the first of one to three lost ones
	Found float64 // chance that a read-through finds a passage, twice over
	Motor bool    // passages are remembered as skills, not as words
}

// Ordinary is the world of the package comment, with the first memory or the second.
func Ordinary(seed uint64, motor bool) World {
	return World{Seed: seed, Long: 1.1, Noise: 0.3, Lost: 0.02, Found: 0.2, Motor: motor}
}

// retention gives the chance that a passage holds on a day, from the days of
// its visits so far, in order; visits of the day itself do not count.
func (w World) retention(s *model.Season, p *model.PassageWork, on model.Date) float64 {
	if !w.Motor {
		return retention(p.Done, on)
	}
	return w.motor(p.Name, len(s.Recipe(&p.Passage)), p.Done, on)
}

// luck gives chance for one thing, the same whenever it is asked.
func (w World) luck(what string) *rand.Rand {
	h := fnv.New64a()
	h.Write([]byte(what))
	return rand.New(rand.NewPCG(w.Seed, h.Sum64()))
}

// takes gives the minutes that a session really takes when tried on a day.
func (w World) takes(id string, d model.Date, planned model.Minutes) model.Minutes {
	r := w.luck(id + " " + d.String())
	m := float64(planned) * w.Long * math.Exp(w.Noise*r.NormFloat64()-w.Noise*w.Noise/2)
	return max(1, model.Minutes(math.Round(m)))
}

// lost tells whether a day is lost.
func (w World) lost(d model.Date) bool {
	for back := range model.Date(3) {
		r := w.luck("day " + (d - back).String())
		if r.Float64() < w.Lost && r.IntN(3) >= int(back) {
			return true
		}
	}
	return false
}

// holds tells whether a passage's check holds that memory gives so much chance;
// n counts its visits so far.
func (w World) holds(passage string, n int, chance float64) bool {
	return w.luck("check "+passage+" "+strconv.Itoa(n)).Float64() < chance
}

package model

// Habits is how the player works: the recipe of a passage, the gaps between
// its visits, the lengths that stand in where a part gives none.
type Habits struct {
	Step           Minutes    // minutes are planned in whole steps
	Visits         [4]int     // number of visits by difficulty 1..3 (index 0 unused)
	First          [4]Minutes // first visit's minutes by difficulty, where a passage gives none
	Shares         []int      // visit k's share of the first estimate, in percent; the last one repeats
	LeastGaps      []int      // least days from visit k to visit k+1; the last one repeats
	PreferredGaps  []int      // preferred most days from visit k to visit k+1; the last one repeats
	ReadyDays      int        // ready-by lies this many days before the first rehearsal
	FreshDays      int        // a passage finished more than this many days before its deadline has gone stale
	LastDays       int        // the return to the recordings lies in this many last days
	ExposedWeight  int        // added to the difficulty of an exposed passage when visits are valued
	VisitValues    []int      // worth of five minutes of visit k for each unit of weight; the last one repeats
	ListenValue    int        // worth of five minutes of a part's listening
	ReadValue      int        // worth of five minutes of a part's read-through
	RecordValue    int        // worth of five minutes of a part's return to the recordings
	Listening      Minutes    // listening of a part that gives none
	ReadThrough    Minutes    // read-through of a part that gives none
	Recordings     Minutes    // return to the recordings of a part that gives none
	ServicePlaying int        // share of a service spent playing, in percent, where none is given
	TempoSteps     int        // most steps of the metronome scale by which a passage's tempo rises in a day
	ServiceTravel  Minutes    // the way to a service, and again the way back, where none is given
}

// DefaultHabits gives the habits of a player who set none.
//
// Sources: visits of a passage on different days - Simmons, J. Research in
// Music Education 59, 357-368 (2012). A last gap of 7 to 11 days where some 35
// days are left - Cepeda et al., Psychological Science 19, 1095-1102 (2008).
// The rest is common practice, no source. ReadyDays leaves time for what does not
// hold: taken up again the next day and checked the day after is two days, a
// rest day and a day lost are two more, and the first rehearsal is the fifth.
func DefaultHabits() Habits {
	return Habits{
		Step:           5,
		Visits:         [4]int{0, 3, 4, 5},
		First:          [4]Minutes{0, 10, 10, 15},
		Shares:         []int{100, 80, 60, 50},
		LeastGaps:      []int{1, 2, 4, 5},
		PreferredGaps:  []int{2, 4, 7, 9},
		ReadyDays:      5,
		FreshDays:      14,
		LastDays:       10,
		ExposedWeight:  2,
		VisitValues:    []int{40, 12, 3, 2, 1},
		ListenValue:    40,
		ReadValue:      250,
		RecordValue:    3,
		Listening:      30,
		ReadThrough:    30,
		Recordings:     20,
		ServicePlaying: 65,
		TempoSteps:     3,
	}
}

// at gives entry k of a list whose last entry repeats.
func at(list []int, k int) int {
	if len(list) == 0 {
		return 0
	}
	return list[min(k, len(list)-1)]
}

// Visit is one entry of a recipe.
type Visit struct {
	Minutes   Minutes // whole steps
	Least     int     // least days since the visit before; 0 for the first
	Preferred int     // most days since the visit before that cost nothing; 0 for the first
	Value     int     // what leaving it out costs
}

// Recipe gives a passage's visits in order.
//
// Visit k of a passage of first estimate m lasts share(k)·m, in whole steps;
// five minutes of it are worth VisitValues(k) × (difficulty + ExposedWeight if
// exposed). See worth.go for what that does in a crunch.
func (s *Season) Recipe(p *Passage) []Visit {
	h := &s.Habits
	first := p.Minutes
	if first == 0 {
		first = h.First[p.Hard]
	}
	n := h.Visits[p.Hard]
	if len(p.Visits) > 0 {
		n = len(p.Visits)
	}
	weight := p.Hard
	if p.Exposed {
		weight += h.ExposedWeight
	}
	out := make([]Visit, n)
	for k := range out {
		m := max(1, first*Minutes(at(h.Shares, k))/100) // a wanted visit lasts a step at least
		if len(p.Visits) > 0 {
			m = p.Visits[k]
		}
		m = m.ToStep(h.Step)
		out[k] = Visit{Minutes: m, Value: worth(weight*at(h.VisitValues, k), m)}
		if k > 0 {
			out[k].Least = at(h.LeastGaps, k-1)
			if p.Daily {
				out[k].Least = min(out[k].Least, 1)
			}
			out[k].Preferred = max(out[k].Least, at(h.PreferredGaps, k-1))
		}
	}
	return out
}

// RecipeMinutes gives the sum of a recipe.
func RecipeMinutes(r []Visit) Minutes {
	var sum Minutes
	for _, v := range r {
		sum += v.Minutes
	}
	return sum
}

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
	ShortGaps      bool       // least gaps are shorter where the time is short; see due.shorten
	Upkeep         Minutes    // a visit that keeps up what is hard or exposed before a concert of a run; 0: none
	UpkeepAfter    int        // before a concert this many days or more after the service before it
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
	WholeParts     bool       `json:",omitempty"` // where time is short some parts give way, so that the others are whole
	TempoSteps     int        // most steps of the metronome scale by which a passage's tempo rises in a day
	ServiceTravel  Minutes    // the way to a service, and again the way back, where none is given

	ListeningHours ByDay[[]Span] `json:",omitzero"` // times of day in which listening and recordings lie best; none: the edges of the day
	PartChanges    PartChanges   `json:",omitzero"` // how much a change of part on the stand counts
}

// DefaultHabits gives the habits of a player who set none.
//
// Sources: visits of a passage on different days - Simmons, J. Research in
// Music Education 59, 357-368 (2012). The rest is common practice, no source,
// and so are the preferred gaps: they are room in which a plan moves visits at no
// cost, and the longer last ones show at a check what a pause leaves. Memory does
// not ask for them. Cepeda et al., Psychological Science 19, 1095-1102 (2008), found
// gaps of 20 to 40 % of the days from the last visit to the test best where those
// are a week: of the 5 to 14 days from ready-by and fresh to the first rehearsal
// that is 1 to 5, as the least gaps are; gaps too long cost less there than ones too
// short.
//
// ReadyDays leaves time for what does not hold: taken up again the next day and
// checked the day after is two days, a rest day and a day lost are two more, and
// the first rehearsal is the fifth.
func DefaultHabits() Habits {
	return Habits{
		Step:           5,
		Visits:         [4]int{0, 3, 4, 5},
		First:          [4]Minutes{0, 10, 10, 15},
		Shares:         []int{100, 80, 60, 50},
		LeastGaps:      []int{1, 2, 4, 5},
		PreferredGaps:  []int{2, 4, 7, 9},
		ShortGaps:      true,
		Upkeep:         5,
		UpkeepAfter:    4,
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

// Gap gives the least days between visit k of a passage, from 0, and the one after it, and
// the most that cost nothing.
func (h *Habits) Gap(p *Passage, k int) (least, preferred int) {
	if least = at(h.LeastGaps, k); p.Daily {
		least = min(least, 1)
	}
	return least, max(least, at(h.PreferredGaps, k))
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
// Visit k of a passage of first estimate m lasts share(k)·m, dealt out in whole
// steps (see deal); five minutes of it are worth VisitValues(k) × (difficulty +
// ExposedWeight if exposed). See worth.go for what that does in a crunch.
func (s *Season) Recipe(p *Passage) []Visit {
	h := &s.Habits
	exact := h.exact(p)
	weight := p.Hard
	if p.Exposed {
		weight += h.ExposedWeight
	}
	out := make([]Visit, len(exact))
	for k, m := range deal(exact, h.Step) {
		value := at(h.VisitValues, k)
		if p.Upkeep { // worth no more than a last check
			value = h.VisitValues[len(h.VisitValues)-1]
		}
		out[k] = Visit{Minutes: m, Value: worth(weight*value, m)}
		if k > 0 {
			out[k].Least, out[k].Preferred = h.Gap(p, k-1)
		}
	}
	return out
}

// exact gives the lengths of a passage's visits before they are whole steps, in
// hundredths of a minute.
func (h *Habits) exact(p *Passage) []int {
	var out []int
	for _, m := range p.Visits {
		out = append(out, 100*int(m))
	}
	if len(out) > 0 {
		return out
	}
	first := p.Minutes
	if first == 0 {
		first = h.First[p.Hard]
	}
	for k := range fewer(h.Visits[p.Hard], p.Kept) {
		out = append(out, shortened(at(h.Shares, k)*int(first), p.Kept))
	}
	return out
}

// deal gives lengths in hundredths of a minute whole steps, so that nothing is
// lost or won over all of them: their sum, rounded once to whole steps (halves
// upwards), is dealt out by the largest remainder (Hamilton's method of
// apportionment; from memory). Each gets the steps it holds, at least one; what
// is left goes one by one to those furthest below their length, of equals to
// the earlier one.
func deal(exact []int, step Minutes) []Minutes { return dealMore(exact, step, 0) }

// dealMore deals out so many hundredths of a minute more, or less, over all of them.
func dealMore(exact []int, step Minutes, sum int) []Minutes {
	out := make([]Minutes, len(exact))
	unit := 100 * int(step)
	for k, m := range exact {
		sum += m
		out[k] = Minutes(max(1, m/unit)) * step
	}
	left := toStep(sum, step)
	for _, m := range out {
		left -= m
	}
	for ; left > 0; left -= step {
		least := 0
		for k := range out {
			if exact[k]-100*int(out[k]) > exact[least]-100*int(out[least]) {
				least = k
			}
		}
		out[least] += step
	}
	return out
}

// toStep gives hundredths of a minute to the nearest whole step, halves upwards.
func toStep(sum int, step Minutes) Minutes {
	unit := 100 * int(step)
	return Minutes((sum+unit/2)/unit) * step
}

// dealOver deals a length out over visits with these shares of it, fewer of them
// where there is not a step for each.
func dealOver(shares []int, m, step Minutes) []Minutes {
	shares = shares[:max(1, min(len(shares), int(m/step)))]
	sum := 0
	for _, share := range shares {
		sum += share
	}
	exact := make([]int, len(shares))
	for k, share := range shares {
		exact[k] = (100*int(m)*share + sum/2) / sum
	}
	return deal(exact, step)
}

// RecipeMinutes gives the sum of a recipe.
func RecipeMinutes(r []Visit) Minutes {
	var sum Minutes
	for _, v := range r {
		sum += v.Minutes
	}
	return sum
}

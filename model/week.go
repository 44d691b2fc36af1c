package model

// A week of the way back holds no more than the one before it allows, in playing
// that was really played, services included. For its weeks k = 0, 1, … of seven
// days from its first day on, with
//
//	P(k)  playing of week k: of days gone by what was played, of days ahead as much
//	      as their limits let
//	A     playing of seven days at the steps of week 0
//
// no more is played in week k > 0 than
//
//	W(k) = max(A, (100 + rise)/100 · P(k−1) + riseFloor)
//
// which is the figure above which the wish for an even body counts a rise (see
// Limits.Rise). There it is a wish; after a spell it is a rule. So whoever plays
// less than the steps allow does not rise with the days that go by.
//
// The rule is kept day by day, so that no day depends on another: of what is left
// of W(k) every day ahead gets the same greatest ceiling, services going before
//
//	ceiling(k) = greatest λ with Σ max(services, min(step, cap, λ)) ≤ W(k) − played
//
// and RoomOn takes that of the day's cap. Even days suit a body that comes back;
// that they should is common practice, no source.

// weeksOf gives the ceilings of the weeks of a way back, NoLimit where the days'
// own limits keep the week within what it may hold.
func (s *Season) weeksOf(b Back, h *History) (out []Minutes) {
	l := &s.Limits
	var allowed, before Minutes
	for n := range Date(7) {
		most, _ := b.Step(b.From+n, l.Return.Rise)
		allowed += min(most, b.Full)
	}
	for k := range Date(returnWeeks) {
		from := b.From + 7*k
		if from > s.To {
			break
		}
		var played Minutes
		var ahead []dayLimit
		for d := from; d < from+7; d++ {
			switch {
			case !s.Holds(d): // nothing is known of it, nor planned on it
			case d < h.Today:
				played += s.playedOn(d, h.Played[d])
			default:
				most, _ := b.Step(d, l.Return.Rise)
				ahead = append(ahead, s.limitOn(d, most))
			}
		}
		ceiling := Minutes(NoLimit)
		if most := max(allowed, before*Minutes(100+l.Rise)/100+l.RiseFloor); k > 0 && played+sumOf(ahead, NoLimit) > most {
			for ceiling = 0; played+sumOf(ahead, ceiling+1) <= most; ceiling++ {
			}
		}
		before = played + sumOf(ahead, ceiling)
		out = append(out, ceiling)
	}
	return out
}

// dayLimit is what a day ahead may hold at most: services go before.
type dayLimit struct{ services, most Minutes }

// limitOn gives a day's limit, at most so much playing.
func (s *Season) limitOn(d Date, most Minutes) dayLimit {
	r := s.RoomOn(d)
	if r.Rest {
		most = 0
	}
	return dayLimit{r.Services, min(most, s.Limits.Playing.On(d))}
}

// sumOf gives what days may hold together, each at most so much, services apart.
func sumOf(days []dayLimit, most Minutes) (sum Minutes) {
	for _, d := range days {
		sum += max(d.services, min(d.most, most))
	}
	return sum
}

// playedOn gives all playing of a day with so much of it planned, services and a
// warm-up included.
func (s *Season) playedOn(d Date, planned Minutes) Minutes {
	all := s.RoomOn(d).Services
	if planned > 0 {
		all += planned + s.Limits.WarmUp
	}
	return all
}

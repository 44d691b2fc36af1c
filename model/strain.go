package model

// Strain is what the body wish needs to know of a season: how much planned
// playing each day, each pair of days and each week takes before it costs.
// Everything is counted in planned playing minutes, warm-up apart, so that
// what the services alone bring is nobody's fault and costs nothing.
//
// With heavy share h (percent), cap C(d), services' playing S(d), warm-up W:
//
//	Slack(d) = max(0, h·C(d)/100 − S(d) − W)
//	Pair(d)  = max(0, h·(C(d)+C(d+1))/100 − S(d) − S(d+1) − 2W)
//
// and the wish is, over planned playing p(d), load L(week) = Σ S(d)+p(d),
// rise share r (percent) and floor F, in minutes:
//
//	Σ max(0, p(d) − Slack(d)) + Σ max(0, p(d)+p(d+1) − Pair(d))
//	  + Σ max(0, L(week) − (100+r)/100·L(week before) − F)
//
// Weeks are ISO weeks; a rise is measured only where the week before lies
// wholly in the season. The wish is convex and piecewise linear in p.
type Strain struct {
	From  Date
	Slack []Minutes // by day of the season
	Pair  []Minutes // by day; the last day has none (NoLimit)
	Weeks []Week    // every ISO week that touches the season, in order
	Rise  int       // percent
	Floor Minutes
}

// Week is one ISO week of a season, in day numbers counted from the season's
// first day.
type Week struct {
	First, Last int     // days of the week that lie in the season
	Services    Minutes // services' playing in them
	Rises       bool    // whether its rise over the week before counts
}

// Strain tabulates the season for the body wish.
func (s *Season) Strain() *Strain {
	n := s.Days()
	b := &Strain{From: s.From, Slack: make([]Minutes, n), Pair: make([]Minutes, n), Rise: s.Limits.Rise, Floor: s.Limits.RiseFloor}
	rooms := make([]Room, n)
	for i := range rooms {
		rooms[i] = s.RoomOn(s.From + Date(i))
	}
	heavy := Minutes(s.Limits.Heavy)
	for i, r := range rooms {
		b.Slack[i] = max(0, heavy*r.Cap/100-r.Services-r.WarmUp)
		b.Pair[i] = NoLimit
		if i+1 < n {
			q := rooms[i+1]
			b.Pair[i] = max(0, heavy*(r.Cap+q.Cap)/100-r.Services-q.Services-r.WarmUp-q.WarmUp)
		}
		day := s.From + Date(i)
		if i == 0 || day == day.Monday() {
			whole := len(b.Weeks) > 0 && s.From <= day-7
			b.Weeks = append(b.Weeks, Week{First: i, Last: i, Rises: whole})
		}
		w := &b.Weeks[len(b.Weeks)-1]
		w.Last = i
		w.Services += r.Services
	}
	return b
}

// Excess gives the body wish in hundredths of a minute for planned playing
// minutes by day of the season.
func (b *Strain) Excess(planned []Minutes) int64 {
	var sum int64
	for i, p := range planned {
		sum += 100 * int64(max(0, p-b.Slack[i]))
		if i+1 < len(planned) {
			sum += 100 * int64(max(0, p+planned[i+1]-b.Pair[i]))
		}
	}
	var before int64
	for _, w := range b.Weeks {
		load := int64(w.Services)
		for i := w.First; i <= w.Last; i++ {
			load += int64(planned[i])
		}
		if w.Rises {
			sum += max(0, 100*load-int64(100+b.Rise)*before-100*int64(b.Floor))
		}
		before = load
	}
	return sum
}

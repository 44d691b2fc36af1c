package model

import "strings"

// Load is the playing of some days against the most that their limits allow.
// Terminal, page, charts, sheets and JSON all take their figures from here.
type Load struct {
	Days      Range
	Other     Minutes // of Services: playing that belongs to no programme
	WarmUp    Minutes
	Planned   Minutes // planned playing, warm-up apart
	Listening Minutes
	Most      Minutes // Room.Most of the days together
	Heavy     int     // days above the heavy share of their cap, but for light ones and those of a way back, which hold little

	services int // services' playing in hundredths of a minute, so that it is rounded once
}

// Services gives the playing of services and other playing, rounded to the nearest
// minute; InServices that of services alone.
func (l *Load) Services() Minutes { return Minutes((l.services + 50) / 100) }

// InServices gives the playing of services.
func (l *Load) InServices() Minutes { return l.Services() - l.Other }

// Playing gives all playing, services and warm-ups included.
func (l *Load) Playing() Minutes { return l.Services() + l.WarmUp + l.Planned }

// Share gives the playing in percent of the most there may be, rounded down; 0
// where nothing may be played.
func (l *Load) Share() int {
	if l.Most == 0 {
		return 0
	}
	return int(100 * l.Playing() / l.Most)
}

// OfMost writes "1:38 of 4:00", and the playing alone where there is none but
// what services take; behind it what belongs to no programme: "1:30 of 1:30, 1:00
// otherwise".
func (l *Load) OfMost() string {
	out := l.Playing().Hours()
	if l.Playing() != l.Services() || l.Services() != l.Most {
		out += " of " + l.Most.Hours()
	}
	switch l.Other {
	case 0:
		return out
	case l.Playing():
		return out + ", otherwise"
	}
	return out + ", " + l.Other.Hours() + " otherwise"
}

// Said says in a sentence where it is played and of how much, with minutes as write
// has them: "Playing 30 min here and 60 min otherwise, of 90 min." What belongs to no
// programme stands apart.
func (l *Load) Said(write func(Minutes) string) string {
	var where []string
	own := l.WarmUp + l.Planned
	for _, x := range []struct {
		minutes Minutes
		word    string
	}{{own, "here"}, {l.InServices(), "in services"}, {l.Other, "otherwise"}} {
		if x.minutes > 0 {
			where = append(where, write(x.minutes)+" "+x.word)
		}
	}
	last := len(where) - 1
	switch {
	case last < 0:
		return "No playing."
	case l.Services() == 0:
		return "Playing " + write(own) + " of " + write(l.Most) + "."
	}
	out := "Playing " + where[last]
	if last > 0 {
		out = "Playing " + strings.Join(where[:last], ", ") + " and " + where[last]
	}
	if l.Services() == l.Most { // nothing may be planned; what was done had its room
		return out + "."
	}
	return out + ", of " + write(l.Most) + "."
}

func (l *Load) add(o *Load) {
	l.Days.To = o.Days.To
	l.services += o.services
	l.Other += o.Other
	l.WarmUp += o.WarmUp
	l.Planned += o.Planned
	l.Listening += o.Listening
	l.Most += o.Most
	l.Heavy += o.Heavy
}

// Most gives the most playing that the day's limits allow: its cap, but only
// what services take of it where nothing may be played besides, as on rest days,
// days off, on tour and in quiet hours. So a week's rest day is no room that the
// rest of the week could use.
func (r *Room) Most() Minutes {
	if r.Playing == 0 {
		return min(r.Cap, r.Services)
	}
	return min(r.Cap, r.Services+r.WarmUp+r.Again+r.Playing)
}

// hundredths gives services' playing in hundredths of a minute.
func hundredths(services []Service) int {
	sum := 0
	for _, v := range services {
		if !v.Missed {
			sum += int(v.Lasts) * v.Playing
		}
	}
	return sum
}

// PlayingIn gives the playing minutes of services together, rounded once.
func PlayingIn(services []Service) Minutes { return Minutes((hundredths(services) + 50) / 100) }

// Loads holds the load of each day of a season, or of some of its days.
type Loads struct {
	from Date
	days []Load
}

// Loads sums a plan up day by day. Without a plan (nil) only services count.
func (s *Season) Loads(p *Plan) *Loads { return s.LoadsDuring(p, Range{s.From, s.To}) }

// LoadsDuring sums up those days of a range that lie in the season, and no others.
func (s *Season) LoadsDuring(p *Plan, days Range) *Loads {
	days = Range{max(days.From, s.From), min(days.To, s.To)}
	out := &Loads{days.From, make([]Load, days.Days())}
	caps := make([]Minutes, len(out.days))
	for i := range out.days {
		r := s.RoomOn(days.From + Date(i))
		if caps[i] = r.Cap; r.Marks&(LightDay|AfterTimeOff) != 0 {
			caps[i] = NoLimit
		}
		out.days[i] = Load{Days: Range{r.Date, r.Date}, Most: r.Most(), Other: r.Other, services: r.services}
	}
	if p != nil {
		for i := range p.Sessions {
			v := &p.Sessions[i]
			if v.Date < days.From || v.Date > days.To {
				continue
			}
			d := &out.days[v.Date-days.From]
			switch {
			case v.Stage == WarmUpStage:
				d.WarmUp += v.Minutes
			case v.Stage.Playing():
				d.Planned += v.Minutes
			default:
				d.Listening += v.Minutes
			}
		}
	}
	if p != nil && s.Limits.WarmUpAgain > 0 {
		for d, sessions := range p.ByDate() {
			if d >= days.From && d <= days.To {
				out.days[d-days.From].WarmUp += s.Limits.WarmUpAgain * Minutes(len(s.WarmUpsAgain(d, sessions)))
			}
		}
	}
	for i := range out.days {
		d := &out.days[i]
		if 100*d.Playing() > Minutes(s.Limits.Heavy)*caps[i] {
			d.Heavy = 1
		}
	}
	return out
}

// On gives a day's load, nothing outside the season.
func (l *Loads) On(d Date) Load { return l.During(Range{d, d}) }

// During gives the load of the days of a range that lie in the season.
func (l *Loads) During(r Range) Load {
	r = Range{max(r.From, l.from), min(r.To, l.from+Date(len(l.days))-1)}
	out := Load{Days: r}
	for d := r.From; d <= r.To; d++ {
		out.add(&l.days[d-l.from])
	}
	return out
}

// WeekLoad is the load of an ISO week, as far as it lies in the season.
type WeekLoad struct {
	Load
	// Rise is by how much percent it lies over the week before, warm-ups apart
	// (Strain), and Measured tells whether there is a whole week with playing to
	// measure by. AfterNone tells of playing after a whole week without any.
	Rise                int
	Measured, AfterNone bool
}

// Weeks gives the season's ISO weeks in order.
func (l *Loads) Weeks() []WeekLoad {
	var out []WeekLoad
	end := l.from + Date(len(l.days)) - 1
	for from := l.from; from <= end; from = from.Monday() + 7 {
		w := WeekLoad{Load: l.During(Range{from, from.Monday() + 6})}
		// A week that the season's beginning cuts is nothing to measure by.
		if n := len(out); n > 0 && out[n-1].Days.Days() == 7 {
			now, before := w.Services()+w.Planned, out[n-1].Services()+out[n-1].Planned
			if w.Measured = before > 0; w.Measured {
				w.Rise = int((now - before) * 100 / before)
			}
			w.AfterNone = before == 0 && now > 0
		}
		out = append(out, w)
	}
	return out
}

// Fullest gives the index of the week that takes the largest share of what its
// days allow, -1 when nothing is played at all.
func Fullest(weeks []WeekLoad) int {
	best := -1
	for i := range weeks {
		l := &weeks[i]
		if l.Playing() > 0 && (best < 0 || l.Playing()*max(1, weeks[best].Most) > weeks[best].Playing()*max(1, l.Most)) {
			best = i
		}
	}
	return best
}

package conflict

import (
	"fmt"
	"slices"
	"time"

	"primaprova/model"
)

// A Fact is one thing that the season says, or one rule, and that a plan could
// do more without. Reasons are sets of facts.
type Fact struct {
	Kind  FactKind
	Paths []string // where it stands in the season, for example programmes[0].parts[1].arrives; empty for rules of the craft
	Part  string   // programme/part: of work, arrivals and own due dates
	Days  model.Range
	// Minutes is what a part has to play, or what caps leave on the days.
	Minutes model.Minutes
	// Bundle is the same number for facts that can't be spared together, while
	// of each alone that could not be told; 0 for others.
	Bundle int
	// Alone tells whether some plan does without this fact alone, all other lines of
	// the season standing; Unknown where that was not found out.
	Alone Answer

	programme, part, index int // of the season's lists
	weekday                time.Weekday
}

// Answer is what is known of a question.
type Answer string

// The answers.
const (
	Unknown Answer = ""
	Yes     Answer = "yes"
	No      Answer = "no"
)

// FactKind says what a fact is about.
type FactKind string

// The kinds of fact. What is dropped where one is left out of a set stands
// beside it; relax drops it, and both orders of the filter try it away.
const (
	WorkFact      FactKind = "work"            // the part asks for nothing
	ArrivalFact   FactKind = "arrival"         // the part is there from the first day
	RehearsalFact FactKind = "first rehearsal" // it lies after the season's last day
	DueFact       FactKind = "due dates"       // passages are due at the first rehearsal
	FoundFact     FactKind = "found"           // passages are known from the part's arrival on
	CapFact       FactKind = "cap"             // no cap on these days
	RestFact      FactKind = "rest days"       // these are none
	OffFact       FactKind = "days off"        // these are none
	ServicesFact  FactKind = "services"        // a programme's services take no playing
	WarmUpFact    FactKind = "warm-up"         // it takes no time
	HoursFact     FactKind = "hours"           // the whole day is free
	QuietFact     FactKind = "quiet hours"     // playing is free in them
	LatestFact    FactKind = "latest hour"     // there is none
	ApartFact     FactKind = "service gap"     // practice may touch services, and the way to them takes no time
	BusyFact      FactKind = "busy"            // other calendars take nothing of the hours
	LightFact     FactKind = "light days"      // days of pain, by the record, have their whole cap
	ListeningFact FactKind = "listening"       // any amount in a day
	PassagesFact  FactKind = "passages"        // any number in a day
	ToursFact     FactKind = "tours"           // they are none
	BeforeFact    FactKind = "before concerts" // the cap is not lowered
	TwoFact       FactKind = "two services"    // practice may come on top
	ReturnFact    FactKind = "return"          // the cap is whole at once after time off
	NewFact       FactKind = "new passages"    // also on days of concerts
	PinFact       FactKind = "pin"             // the session may lie on any day
	GapFact       FactKind = "gaps"            // a visit may follow the next day
	OrderFact     FactKind = "order"           // stages and first visits in any order
	OnceFact      FactKind = "all once first"  // third visits need not wait for other passages' first ones
)

// facts lists all facts of a season that can stand in the way of its parts,
// the caps in runs of days (see capRuns).
func facts(s *model.Season, work []model.PartWork, runs []model.Range) []Fact {
	var out []Fact
	add := func(f Fact, path string, args ...any) {
		if path != "" {
			f.Paths = []string{fmt.Sprintf(path, args...)}
		}
		out = append(out, f)
	}
	n := 0
	for i := range s.Programmes {
		p := &s.Programmes[i]
		first := slices.IndexFunc(p.Services, func(v model.Service) bool { return v.Date == p.FirstRehearsal() })
		over := true // for all its parts
		for j := range p.Parts {
			w := &work[n]
			over = over && w.Over
			of := Fact{Part: w.Name, programme: i, part: n, index: j}
			of.Kind = WorkFact
			add(of, "programmes[%d].parts[%d]", i, j)
			of.Kind, of.Days = ArrivalFact, model.Range{From: w.Part.Arrives, To: w.Part.Arrives}
			add(of, "programmes[%d].parts[%d].arrives", i, j)
			if slices.ContainsFunc(w.Passages, func(q model.PassageWork) bool { return q.Passage.Due != 0 }) {
				of.Kind, of.Days = DueFact, model.Range{}
				add(of, "programmes[%d].parts[%d].passages", i, j)
			}
			of.Kind, of.Days, of.Paths = FoundFact, model.Range{}, nil
			for k := range w.Part.Passages {
				if w.Part.Passages[k].Found != 0 {
					of.Paths = append(of.Paths, fmt.Sprintf("programmes[%d].parts[%d].passages[%d].found", i, j, k))
				}
			}
			if len(of.Paths) > 0 {
				out = append(out, of)
			}
			n++
		}
		if first < 0 {
			continue
		}
		day := p.FirstRehearsal()
		if over { // it has come: what is due still is due by the dates after it
			for j := range p.Services {
				if !p.Services[j].Missed && p.Services[j].Date > day {
					first, day = j, p.Services[j].Date
				}
			}
		}
		add(Fact{Kind: RehearsalFact, Days: model.Range{From: day, To: day}, programme: i}, "programmes[%d].services[%d].%v", i, first, p.Services[first].Kind)
		add(Fact{Kind: ServicesFact, programme: i}, "programmes[%d].services", i)
	}
	l := &s.Limits
	for _, r := range runs {
		add(Fact{Kind: CapFact, Days: r}, "")
		out[len(out)-1].Paths = capPaths(l, r)
	}
	for k, d := range l.RestDays {
		add(Fact{Kind: RestFact, weekday: d, index: k}, "limits.rest_days")
	}
	for k, r := range l.RestDates {
		add(Fact{Kind: RestFact, Days: r, index: k}, "limits.rest_days")
	}
	for k, r := range l.DaysOff {
		add(Fact{Kind: OffFact, Days: r, index: k}, "limits.days_off[%d]", k)
	}
	for k, r := range l.Tours {
		add(Fact{Kind: ToursFact, Days: r, index: k}, "limits.tours[%d]", k)
	}
	add(Fact{Kind: BeforeFact}, "limits.before_concert")
	add(Fact{Kind: TwoFact, Minutes: l.TwoServices}, "limits.two_services")
	add(Fact{Kind: ReturnFact}, "limits.return")
	add(Fact{Kind: NewFact}, "limits.new_on_concerts")
	add(Fact{Kind: WarmUpFact, Minutes: l.WarmUp}, "limits.warm_up")
	add(Fact{Kind: ListeningFact, Minutes: l.Listening}, "limits.listening")
	add(Fact{Kind: PassagesFact, index: l.Passages}, "limits.passages")
	if s.HasHours() {
		add(Fact{Kind: HoursFact}, "hours")
		add(Fact{Kind: QuietFact}, "limits.quiet")
		add(Fact{Kind: LatestFact}, "limits.latest")
		add(Fact{Kind: ApartFact, Minutes: l.ServiceGap}, "limits.service_gap")
		if len(s.Busy) > 0 {
			add(Fact{Kind: BusyFact}, "busy")
		}
	}
	if days := lightDays(s); len(days) > 0 {
		add(Fact{Kind: LightFact, Days: model.Range{From: days[0], To: days[len(days)-1]}}, "")
	}
	for k := range s.Pins {
		add(Fact{Kind: PinFact, Days: model.Range{From: s.Pins[k].Date, To: s.Pins[k].Date}, index: k}, "pins[%d]", k)
	}
	add(Fact{Kind: GapFact}, "habits.least_gaps")
	add(Fact{Kind: OrderFact}, "")
	add(Fact{Kind: OnceFact}, "")
	return out
}

// Rule gives the rule of the audit that a fact belongs to; none for work.
func (f *Fact) Rule() model.RuleID {
	switch f.Kind {
	case ArrivalFact, RehearsalFact, DueFact, FoundFact:
		return model.WindowRule
	case CapFact, ServicesFact, WarmUpFact, BeforeFact, TwoFact, ReturnFact, LightFact:
		return model.CapRule
	case NewFact:
		return model.NewRule
	case RestFact, ToursFact:
		return model.RestRule
	case OffFact:
		return model.OffRule
	case HoursFact, QuietFact, LatestFact, ApartFact, BusyFact:
		return model.HoursRule
	case ListeningFact:
		return model.ListeningRule
	case PassagesFact:
		return model.PassagesRule
	case PinFact:
		return model.PinnedRule
	case GapFact:
		return model.GapRule
	case OrderFact:
		return model.OrderRule
	case OnceFact:
		return model.AllOnceRule
	}
	return ""
}

// Weekday gives the weekday of a rest day of every week.
func (f *Fact) Weekday() (time.Weekday, bool) {
	return f.weekday, f.Kind == RestFact && f.Days == model.Range{}
}

// Index gives the place of a pin, a day off or a rest day in the season's list
// of its kind.
func (f *Fact) Index() int { return f.index }

// Programme gives the place of a first rehearsal's or of services' programme.
func (f *Fact) Programme() int { return f.programme }

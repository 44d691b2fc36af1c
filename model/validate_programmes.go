package model

import (
	"fmt"
	"slices"
	"strings"
)

func (v *validator) services() {
	for i := range v.s.Programmes {
		for j := range v.s.Programmes[i].Services {
			v.service(fmt.Sprintf("programmes[%d].services[%d]", i, j), &v.s.Programmes[i].Services[j])
		}
	}
}

func (v *validator) programmes() {
	parts, seen := 0, map[string]int{}
	for i := range v.s.Programmes {
		p := &v.s.Programmes[i]
		path := fmt.Sprintf("programmes[%d]", i)
		v.level(path+".level", p.Level)
		named := v.id(path+".id", p.ID, seen, string(WarmUpStage))
		if len(p.Parts) > 0 && len(p.Services) == 0 {
			v.fault(path+".services", "", "a service like {rehearsal: 2027-02-03 10:00, lasts: 150 min}, or a concert, recital, audition or lesson",
				"there is no date that its parts are prepared for")
		}
		parts += len(p.Parts)
		ids := map[string]int{}
		v.works(path, p)
		for j := range p.Parts {
			v.part(fmt.Sprintf("%s.parts[%d]", path, j), p, &p.Parts[j], ids, named)
		}
	}
	switch {
	case len(v.s.Programmes) == 0:
		v.begun("primaprova new writes a season file to start from", "the season is empty: it has no programmes")
	case parts == 0:
		v.begun("parts: [{id: slate, work: Symphony in Slate, arrives: 2027-01-13}] in a programme",
			"the season is empty: no programme has a part")
	}
}

func (v *validator) service(path string, s *Service) {
	if v.s.From != 0 && v.s.To != 0 && v.s.From <= v.s.To && !v.s.Holds(s.Date) {
		v.fault(path+"."+s.Kind.String(), s.Date, fmt.Sprintf("a day of %v, or a longer season", Range{v.s.From, v.s.To}),
			"the %v lies outside the season", s.Kind)
	}
	if s.Start < 0 || s.Start >= 24*60 {
		v.fault(path+"."+s.Kind.String(), s.Start, "a time from 00:00 to 23:59", "is no time of day")
	}
	within(v, path+".lasts", s.Lasts, 1, mostService)
	within(v, path+".travel", s.Travel, 0, mostService)
	v.level(path+".level", s.Level)
	if s.Playing < 0 || s.Playing > 100 {
		v.fault(path+".playing", fmt.Sprintf("%d %%", s.Playing), "0 % to 100 %", "is no share of a service")
	}
}

// works finds works of services that are no parts of the programme.
func (v *validator) works(path string, p *Programme) {
	for j := range p.Services {
		for k, id := range p.Services[j].Works {
			if !slices.ContainsFunc(p.Parts, func(x Part) bool { return x.ID == id }) {
				v.fault(fmt.Sprintf("%s.services[%d].works[%d]", path, j, k), id, "the id of a part of "+p.ID, "is no part of the programme")
			}
		}
	}
}

// level judges a sound level: what no orchestra plays at is a slip of the pen.
func (v *validator) level(path string, l Level) {
	if l != 0 && (l < 400 || l > 1300) {
		v.fault(path, l, "40 dB to 130 dB", "is no level of a service")
	}
}

// part judges one part by itself, then whether its work fits its days.
func (v *validator) part(path string, p *Programme, part *Part, ids map[string]int, named bool) {
	before := v.faults()
	named = v.id(path+".id", part.ID, ids) && named
	s := v.s
	dates := p.Dates(part.ID)
	var last Date
	if len(dates) > 0 {
		last = dates[len(dates)-1].Date
	} else if len(p.Services) > 0 {
		v.fault(path+".id", part.ID, "its id in the works of one of them", "no service of the programme plays this part")
	}
	switch {
	case part.Arrives == 0:
		v.fault(path+".arrives", "", "the day the part arrives, like 2027-01-13", "the part has no day on which it arrives")
	case last != 0 && part.Arrives >= last:
		v.fault(path+".arrives", part.Arrives, fmt.Sprintf("a day before %v", last),
			"the part arrives when all is over: its last date is the %v on %v", dates[len(dates)-1].Kind, last)
	case last != 0 && last <= s.From:
		v.fault(path+".arrives", part.Arrives, fmt.Sprintf("a season that begins before %v", last),
			"the season has no day before its last date, the %v on %v", dates[len(dates)-1].Kind, last)
	}
	within(v, path+".listening", part.Listening, 0, mostStage)
	if part.Break != 0 {
		within(v, path+".break", part.Break, 1, part.Listening-1)
	}
	within(v, path+".read_through", part.ReadThrough, 1, mostStage)
	within(v, path+".recordings", part.Recordings, 0, mostStage)
	within(v, path+".estimate", part.Estimate, 0, mostEstimate)
	if part.ReadyDays != nil {
		within(v, path+".ready_days", *part.ReadyDays, 0, max(0, s.Habits.FreshDays)) // later than that it would have gone stale already
	}
	seen := map[string]int{}
	for k := range part.Passages {
		v.passage(fmt.Sprintf("%s.passages[%d]", path, k), part, &part.Passages[k], seen)
	}
	if v.faults() > before || last == 0 || !v.sound || !named {
		v.broken = append(v.broken, PartName(p.ID, part.ID))
		return
	}
	v.fits(path, s.partWork(p, part, nil))
}

func (v *validator) passage(path string, part *Part, p *Passage, seen map[string]int) {
	v.id(path+".id", p.ID, seen, string(ListeningStage), string(ReadStage), string(RecordingsStage))
	if _, _, taken := upkept(p.ID); taken {
		v.fault(path+".id", p.ID, "another id", "ids of this kind stand for what keeps a passage up")
	}
	if strings.HasPrefix(p.ID, "unnamed-") && !p.Unnamed {
		v.fault(path+".id", p.ID, "another id", "ids that begin with unnamed- stand for what an estimate speaks of")
	}
	if p.Hard < 1 || p.Hard > 3 {
		v.fault(path+".hard", p.Hard, "1, 2 or 3", "is not 1 (easy), 2 (ordinary) or 3 (hard)")
	}
	within(v, path+".minutes", p.Minutes, 0, mostVisit)
	if len(p.Visits) > mostVisits {
		v.fault(path+".visits", len(p.Visits), fmt.Sprintf("at most %d visits", mostVisits), "has more visits than %d", mostVisits)
	}
	for k, m := range p.Visits {
		within(v, fmt.Sprintf("%s.visits[%d]", path, k), m, 1, mostVisit)
	}
	switch {
	case p.Due == 0:
	case part.Arrives != 0 && p.Due <= part.Arrives:
		v.fault(path+".due", p.Due, fmt.Sprintf("a day after %v", part.Arrives), "the passage is due before its part arrives on %v", part.Arrives)
	case v.s.To != 0 && p.Due > v.s.To:
		v.fault(path+".due", p.Due, fmt.Sprintf("%v at the latest, or a longer season", v.s.To), "the passage is due after the season ends on %v", v.s.To)
	case v.s.From != 0 && p.Due <= v.s.From:
		v.fault(path+".due", p.Due, fmt.Sprintf("a day after %v", v.s.From), "the passage is due before the season begins on %v", v.s.From)
	}
	if v.pace(path+".tempo", p.Tempo) && v.sound && p.Hard >= 1 && p.Hard <= 3 {
		w := PassageWork{Passage: *p, Recipe: v.s.Recipe(p)}
		if ladder := v.s.Ladder(&w, nil); len(ladder) > 0 && ladder[len(ladder)-1].Short() > 0 {
			last := ladder[len(ladder)-1]
			v.warn(path+".tempo", "", "more visits, or a higher tempo_steps in habits", "from %d its %d visits lead to %d, under the goal of %d",
				p.Tempo.Start(), len(ladder), last.To, last.Goal)
		}
	}
	if p.Found != 0 && p.Due != 0 && p.Found >= p.Due {
		v.fault(path+".found", p.Found, fmt.Sprintf("a day before %v", p.Due), "the passage is due on %v, before it was found", p.Due)
	}
}

// pace judges a passage's tempos: both on the metronome, now not above the goal.
func (v *validator) pace(path string, p Pace) bool {
	least, most := metronome[0], metronome[len(metronome)-1]
	judge := func(path string, t Tempo) bool {
		if t < least || t > most {
			v.fault(path, int(t), fmt.Sprintf("%d to %d, of half or of two of the note otherwise", least, most), "is not on a metronome")
			return false
		}
		return true
	}
	switch {
	case p == Pace{}:
	case p.Goal == 0:
		v.fault(path+".goal", "", "the tempo of the concert", "the goal is missing")
	case !judge(path+".goal", p.Goal) || p.Now != 0 && !judge(path+".now", p.Now):
	case p.Now > p.Goal:
		v.fault(path+".now", int(p.Now), fmt.Sprintf("%d at the most", p.Goal), "is faster than the goal")
	default:
		return true
	}
	return false
}

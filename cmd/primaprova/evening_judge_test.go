package main

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"primaprova/model"
)

// judged are the lines that an evening may have, and what each has to be true to. What
// is none of them fails: no line goes unjudged.
var judged = []struct {
	line  *regexp.Regexp
	wrong func(e *evening, m []string) string
}{
	{regexp.MustCompile(`^.+: planned again(, and proven the best)?( within its tolerances)?$`), (*evening).status},
	{regexp.MustCompile(`^.+: what moves$`), func(e *evening, _ []string) string { return ifNot(e.late, "nobody was told of a part") }},
	{regexp.MustCompile(`^Nothing moved; the last planning that changed something was on (.+)\.$`), (*evening).still},
	{regexp.MustCompile(`^Of (\d+) sessions ahead: (.+?)\.(?: By part: (.+)\.)?$`), (*evening).moved},
	{regexp.MustCompile(`^Tomorrow, (\w+ \d+ \w+)(?:, ([a-z ]+))?: (.+)\.$`), (*evening).tomorrow},
	{regexp.MustCompile(`^The week to (.+?): playing (\d+:\d\d)(?: of (\d+:\d\d))?(?:, (\d+) days? above 75 % of the cap)?\.$`), (*evening).week},
	{regexp.MustCompile(`^The week to (.+?): playing (\d+:\d\d), more than the (\d+:\d\d) that its limits allow, since services and the like take (\d+:\d\d)(?:; (on the way back), what you need not play can be excused)?(?:, (\d+) days? above 75 % of the cap)?\.$`), (*evening).services},
	{regexp.MustCompile(`^Nothing is left out\.$`), func(e *evening, _ []string) string { return ifNot(len(e.lacks()) == 0, "something is") }},
	{regexp.MustCompile(`^Left out are (.+) \((\d+) min\)(?:, (\d+) more than before)?(; no read-through is, and no passage as a whole)?\.$`), (*evening).leftOut},
	{regexp.MustCompile("^" + heldBack + "$"), func(e *evening, _ []string) string {
		return ifNot(e.onTheWayBack(e.today+1, e.season.To) && len(e.plan.Unplaced) > len(e.stood.Unplaced), "no day ahead holds less, or no more is left out")
	}},
	{regexp.MustCompile(`^(?:(Every passage is done by its ready-by date|What is planned is done by the ready-by dates)|(\d+) passages? (?:is|are) done after the ready-by date, by (\d+) days? at most); (?:(no visit comes)|(\d+) of (\d+) visits?) later after the one before than preferred\.$`), (*evening).inTime},
	{regexp.MustCompile(`^Heavy days and rises: at most (\d+) minutes? above the best possible, spent on spacing, which is now (\d+) days? from what is preferred\.$`), (*evening).spent},
	{regexp.MustCompile(`^(.+): first rehearsal (\w+ \d+ \w+), in (\d+) days?; (?:stands ready (.+)|lacks (\d+) sessions?)\.$`), (*evening).rehearsal},
	{regexp.MustCompile(`^day +was +is +goes`), func(*evening, []string) string { return "" }},
	{regexp.MustCompile(`^(\w{3} \d+ \w{3}) +(\d+:\d\d) +(\d+:\d\d)`), (*evening).row},
	{regexp.MustCompile(`^And (\d+) days? more, to (.+)\.$`), func(e *evening, m []string) string { return ifNot(e.of[m[2]] > e.today, "that day is past") }},
	{regexp.MustCompile(`^Other parts: (\d+) sessions? moved, ([\d.]+) % of what lies ahead\.$`), (*evening).others},
	{regexp.MustCompile(`^(.+) is ready in time with a chance of (?:over )?(\d+) %(?:, before (?:over )?\d+ %)?; why \S+ looks for what would help\.$`), (*evening).chance},
	{regexp.MustCompile(`^(\d+) warnings? as before; check has them\.$`), func(e *evening, m []string) string {
		return ifNot(m[1] == fmt.Sprint(len(e.plan.Warned)), "it is another number")
	}},
	{regexp.MustCompile(`^Not recorded: (\d+) sessions? of yesterday(?:, (\d+) since (.+))?, taken as done \(setting unrecorded\)\.$`), (*evening).silent},
	{regexp.MustCompile(`^Today stays as it stands; --from-today plans it anew too\.$`), (*evening).stays},
	{regexp.MustCompile(`^The record takes today: what stood on it is planned later\.$`), func(e *evening, _ []string) string {
		note := e.history.Days[e.today]
		return ifNot(note == model.Lost || note == model.Stopped, "it does not")
	}},
	{regexp.MustCompile(`^Wrote season\.(?:yaml and season\.)?plan\.json\.$`), func(*evening, []string) string { return "" }},
	{regexp.MustCompile(`^next: primaprova (show|show changes|why) season\.yaml$`), func(*evening, []string) string { return "" }}, // hints are followed in scripts
}

// onTheWayBack tells whether pain, illness or time off has some days hold less.
func (e *evening) onTheWayBack(from, to model.Date) bool {
	for d := from; d <= to; d++ {
		if e.season.RoomOn(d).Marks&(model.LightDay|model.AfterTimeOff) != 0 {
			return true
		}
	}
	return false
}

// judge gives what is wrong with a line, empty where it is true.
func (e *evening) judge(line string) string {
	for _, j := range judged {
		if m := j.line.FindStringSubmatch(line); m != nil {
			return j.wrong(e, m)
		}
	}
	return "nobody judges this line"
}

func ifNot(true bool, wrong string) string {
	if true {
		return ""
	}
	return wrong
}

// differ compares what is said with what is so.
func differ(said string, is any) string {
	return ifNot(said == fmt.Sprint(is), fmt.Sprintf("it is %v", is))
}

func atoi(s string) int { n, _ := strconv.Atoi(s); return n }

func (e *evening) status(m []string) string {
	p, spent := &e.plan.Provenance, false
	for _, x := range p.Wishes {
		spent = spent || x.Value > x.Bound
	}
	if proven := p.Status == model.Proven; proven != (m[1] != "") {
		return "the plan's status is " + string(p.Status)
	}
	return ifNot(m[1] == "" || spent == (m[2] != ""), "what is above its bound is not said, or said of none")
}

func (e *evening) still(m []string) string {
	if n := len(e.moves()); n > 0 {
		return fmt.Sprint(e.moves())
	}
	return ifNot(e.of[m[1]] == e.changed, fmt.Sprintf("it was on %v", e.changed))
}

func (e *evening) moved(m []string) string {
	ahead, kinds := 0, map[string]int{}
	for _, s := range e.plan.Sessions {
		if s.Stage != model.WarmUpStage && s.Date >= e.today {
			ahead++
		}
	}
	asked := map[string]bool{}
	for _, u := range e.plan.Unplaced {
		asked[u.ID] = true
	}
	missed := map[string]bool{}
	for _, u := range e.stood.Unplaced {
		missed[u.ID] = true
	}
	sum := 0
	for id, k := range e.moves() {
		kind := map[string]string{"moved": "moved to another day", "new": "new", "gone": "gone", "length": "of another length", "hour": "at another hour of their day"}[k]
		switch {
		case k == "gone" && asked[id]:
			kind = "left out now"
		case k == "new" && missed[id]:
			kind = "placed that had been left out"
		}
		if kinds[kind]++; k != "hour" {
			sum++
		}
	}
	if ahead != atoi(m[1]) {
		return fmt.Sprintf("%d lie ahead", ahead)
	}
	said := strings.Split(m[2], ", ")
	for _, x := range said {
		n, kind, _ := strings.Cut(x, " ")
		if kinds[kind] != atoi(n) {
			return fmt.Sprintf("%d are %s", kinds[kind], kind)
		}
	}
	if len(said) != len(kinds) {
		return fmt.Sprintf("not all is said: %v", kinds)
	}
	parts := 0
	for _, x := range strings.Split(m[3], ", ") {
		parts += atoi(x[strings.LastIndex(x, " ")+1:])
	}
	return ifNot(strings.Contains(m[3], " more") || parts == sum, fmt.Sprintf("%d of %d by part", parts, sum))
}

// sums gives the playing and the listening of some days, each summed once and rounded
// at the end, and how many days are heavy.
func (e *evening) sums(from, to model.Date) (playing, listening model.Minutes, heavy int) {
	hundredths := 0
	for d := from; d <= to; d++ {
		day, services := model.Minutes(0), 0
		for _, s := range e.plan.Sessions {
			switch {
			case s.Date != d:
			case s.Stage == model.ListeningStage || s.Stage == model.RecordingsStage:
				listening += s.Minutes
			default:
				day += s.Minutes
			}
		}
		for i := range e.season.Programmes {
			for _, v := range e.season.Programmes[i].Services {
				if v.Date == d && !v.Missed {
					services += int(v.Lasts) * v.Playing
				}
			}
		}
		hundredths += services
		playing += day
		room := e.season.RoomOn(d)
		back := room.Marks&(model.LightDay|model.AfterTimeOff) != 0 // whose little room is no measure
		if all := day + model.Minutes((services+50)/100); !back && 100*all > 75*room.Cap {
			heavy++
		}
	}
	return playing + model.Minutes((hundredths+50)/100), listening, heavy
}

func (e *evening) tomorrow(m []string) string {
	d := e.today + 1
	if e.of[m[1]] != d {
		return "tomorrow is another day"
	}
	playing, listening, _ := e.sums(d, d)
	rest := m[3]
	if said := regexp.MustCompile(`playing (\d+:\d\d)(?: of (\d+:\d\d))?`).FindStringSubmatch(rest); said != nil {
		room := e.season.RoomOn(d)
		if said[1] != playing.Hours() || said[2] != "" && said[2] != room.Most().Hours() {
			return fmt.Sprintf("playing is %v of %v", playing.Hours(), room.Most().Hours())
		}
	} else if playing > 0 {
		return fmt.Sprintf("playing of %v is not said", playing)
	}
	if said := regexp.MustCompile(`listening (\d+:\d\d)`).FindStringSubmatch(rest); said != nil {
		if said[1] != listening.Hours() {
			return fmt.Sprintf("listening is %v", listening.Hours())
		}
	} else if listening > 0 {
		return fmt.Sprintf("listening of %v is not said", listening)
	}
	for i := range e.season.Programmes {
		for _, part := range e.season.Programmes[i].Parts {
			name := model.PartName(e.season.Programmes[i].ID, part.ID)
			visits, stages := 0, []string(nil)
			for _, s := range e.plan.Sessions {
				if s.Date == d && s.Part == name {
					if s.Stage == model.PassageStage {
						visits++
					} else {
						stages = append(stages, string(s.Stage))
					}
				}
			}
			at := strings.Index(rest, part.Work)
			if at < 0 {
				if visits+len(stages) > 0 && !strings.Contains(rest, "more work") {
					return part.Work + " is not named"
				}
				continue
			}
			of, _, _ := strings.Cut(rest[at+len(part.Work):], ";")
			for _, s := range stages {
				if !strings.Contains(of, s) {
					return part.Work + ": " + s + " is not named"
				}
			}
			if n := strings.LastIndex(of, "×"); n >= 0 && atoi(of[n+len("×"):]) != visits || n < 0 && visits > 0 {
				return fmt.Sprintf("%s has %d visits", part.Work, visits)
			}
		}
	}
	free := e.season.RestWord(d, e.history)
	return ifNot(free == m[2], "it is no such day: "+free)
}

func (e *evening) week(m []string) string {
	to := e.of[m[1]]
	from := to - 6
	if e.today+1 < from || e.today+1 > to {
		return "tomorrow is in another week"
	}
	playing, _, heavy := e.sums(from, to)
	most := model.Minutes(0)
	for d := from; d <= to; d++ {
		r := e.season.RoomOn(d)
		most += r.Most()
	}
	if m[2] != playing.Hours() || m[3] != "" && m[3] != most.Hours() {
		return fmt.Sprintf("playing is %v of %v", playing.Hours(), most.Hours())
	}
	return ifNot(heavy == atoi(m[4]), fmt.Sprintf("%d days are heavy", heavy))
}

func (e *evening) services(m []string) string {
	to, taken := e.of[m[1]], []model.Service(nil)
	for i := range e.season.Programmes {
		for _, v := range e.season.Programmes[i].Services {
			if !v.Missed && v.Date > to-7 && v.Date <= to {
				taken = append(taken, v)
			}
		}
	}
	if is := model.PlayingIn(taken); is.Hours() != m[4] {
		return "services take " + is.Hours()
	}
	if e.onTheWayBack(max(e.season.From, to-6), to) != (m[5] != "") {
		return "on the way back it is said what can be done, and only there"
	}
	return e.week([]string{m[0], m[1], m[2], m[3], m[6]})
}

// lacks lists what is asked for still and has no day.
func (e *evening) lacks() (out []model.Wanted) {
	planned := map[string]bool{}
	for _, s := range e.plan.Sessions {
		planned[s.ID] = true
	}
	for _, w := range e.season.Wanted(e.history) {
		if !planned[w.ID] {
			out = append(out, w)
		}
	}
	return out
}

func (e *evening) leftOut(m []string) string {
	sum, kinds, whole := model.Minutes(0), map[string]int{}, map[string]bool{}
	has := map[string]bool{}
	for _, s := range e.plan.Sessions {
		if s.Passage != nil {
			has[*s.Passage] = true
		}
	}
	for _, x := range e.lacks() {
		sum += x.Minutes
		switch {
		case x.Stage == model.RecordingsStage:
			kinds["return"]++
		case x.Stage != model.PassageStage:
			kinds["stage"]++
		case !has[x.Passage]:
			whole[x.Passage] = true
		case x.Visit == x.Visits:
			kinds["check"]++
		default:
			kinds["visit"]++
		}
	}
	if sum != model.Minutes(atoi(m[2])) {
		return fmt.Sprintf("it is %d min", sum)
	}
	for _, k := range []struct {
		words string
		is    int
	}{{`(\d+) last checks?`, kinds["check"]}, {`(\d+) visits?`, kinds["visit"]}, {`(\d+) returns? to`, kinds["return"]}, {`(\d+) passages? that`, len(whole)}} {
		said := 0
		if x := regexp.MustCompile(k.words).FindStringSubmatch(m[1]); x != nil {
			said = atoi(x[1])
		}
		if said != k.is {
			return fmt.Sprintf("%d are %s", k.is, k.words)
		}
	}
	return ifNot((m[4] != "") == (kinds["stage"]+len(whole) == 0), "reading, or a whole passage")
}

// inTime judges how many passages are late, and how many visits come later than preferred.
func (e *evening) inTime(m []string) string {
	late, by, apart, visits := 0, 0, 0, 0
	work := e.season.Work(e.history)
	for i := range work {
		for _, q := range work[i].Passages {
			if q.Over {
				continue
			}
			at := map[int]model.Date{}
			for k, d := range q.Done {
				at[k+1] = d
			}
			last := model.Date(0)
			for _, s := range e.plan.Sessions {
				if s.Passage != nil && *s.Passage == q.Name && *s.Visit > len(q.Done) {
					at[*s.Visit] = s.Date
					last = max(last, s.Date)
				}
			}
			for k := len(q.Done) + 1; k <= len(q.Recipe); k++ {
				if at[k] == 0 {
					continue
				}
				visits++
				if at[k-1] != 0 && int(at[k]-at[k-1]) > q.Recipe[k-1].Preferred {
					apart++
				}
			}
			if last > q.Ready {
				late++
				by = max(by, int(last-q.Ready))
			}
		}
	}
	if atoi(m[2]) != late || atoi(m[3]) != by || atoi(m[5]) != apart || m[6] != "" && atoi(m[6]) != visits {
		return fmt.Sprintf("%d are late by %d, %d of %d come later", late, by, apart, visits)
	}
	return ifNot(m[1] == "" || (len(e.lacks()) > 0) == strings.HasPrefix(m[1], "What"), "what is left out is done by no date")
}

func (e *evening) spent(m []string) string {
	w := e.plan.Provenance.Wishes
	if len(e.moves()) == 0 {
		return "nothing was spent this time"
	}
	if gap := int(math.Ceil(w[model.Body].Value - w[model.Body].Bound)); gap != atoi(m[1]) {
		return fmt.Sprintf("body is %d above its bound", gap)
	}
	return differ(m[2], w[model.Spacing].Value)
}

func (e *evening) rehearsal(m []string) string {
	for i := range e.season.Programmes {
		p := &e.season.Programmes[i]
		if p.Title != m[1] {
			continue
		}
		first := p.FirstRehearsal()
		if e.of[m[2]] != first || atoi(m[3]) != int(first-e.today) {
			return fmt.Sprintf("it is on %v", first)
		}
		ready, lacks := model.Date(0), 0
		for _, s := range e.plan.Sessions {
			if strings.HasPrefix(s.Part, p.ID+"/") && s.Stage != model.RecordingsStage {
				ready = max(ready, s.Date)
			}
		}
		for _, x := range e.lacks() {
			if strings.HasPrefix(x.Part, p.ID+"/") {
				lacks++
			}
		}
		if m[4] != "" {
			return ifNot(lacks == 0 && e.of[m[4]] == ready, fmt.Sprintf("it lacks %d, the last visit is on %v", lacks, ready))
		}
		return differ(m[5], lacks)
	}
	return "no programme has this title"
}

// row judges a day's sums before and after.
func (e *evening) row(m []string) string {
	d := e.of[m[1]]
	for i, p := range []*model.Plan{e.stood, e.plan} {
		sum := model.Minutes(0)
		for _, s := range p.Sessions {
			if s.Date == d && s.Stage != model.ListeningStage && s.Stage != model.RecordingsStage {
				sum += s.Minutes
			}
		}
		if m[2+i] != sum.Hours() {
			return fmt.Sprintf("%v are planned", sum)
		}
	}
	return ""
}

// lateParts are those of which the evenings tell.
var lateParts = []string{"gala/ouv2/", "gala/polka/"}

func (e *evening) others(m []string) string {
	n, ahead := 0, 0
	for id, k := range e.moves() {
		if k == "moved" && !slices.ContainsFunc(lateParts, func(p string) bool { return strings.HasPrefix(id, p) }) {
			n++
		}
	}
	for _, s := range e.plan.Sessions {
		if s.Stage != model.WarmUpStage && s.Date >= e.today {
			ahead++
		}
	}
	if n != atoi(m[1]) {
		return fmt.Sprintf("%d moved", n)
	}
	return differ(m[2], fmt.Sprintf("%.1f", 100*float64(n)/float64(ahead)))
}

// chance judges only that the part lacks nothing: how likely it is has tests of its own.
func (e *evening) chance(m []string) string {
	for _, x := range e.lacks() {
		if w := e.season.Programmes; strings.HasPrefix(x.Part, "gala/") && len(w) > 0 && slices.Contains(lateParts, x.Part+"/") {
			return "it lacks " + x.ID
		}
	}
	return ifNot(atoi(m[2]) <= 99, "nothing is certain")
}

// silent counts yesterday's sessions of which the record says nothing.
func (e *evening) silent(m []string) string {
	n, since, first := 0, 0, e.of[m[3]]
	for _, s := range e.stood.Sessions {
		if s.Date < e.today && s.Stage != model.WarmUpStage &&
			!slices.ContainsFunc(e.events, func(v model.Event) bool { return v.Session == s.ID && v.Date == s.Date }) {
			since++
			if s.Date == e.today-1 {
				n++
			}
			first = min(first, s.Date)
		}
	}
	if m[2] != "" && (m[2] != fmt.Sprint(since) || first != e.of[m[3]]) {
		return fmt.Sprintf("%d since %v", since, first)
	}
	return differ(m[1], n)
}

func (e *evening) stays(_ []string) string {
	for id := range e.moves() {
		for _, p := range []*model.Plan{e.stood, e.plan} {
			for _, s := range p.Sessions {
				if s.ID == id && s.Date == e.today {
					return id + " was or is today's"
				}
			}
		}
	}
	return ""
}

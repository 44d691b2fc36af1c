package model

import (
	"cmp"
	"slices"
	"strings"
)

// PlanFormat names the version of the plan file that this program writes.
const PlanFormat = "primaprova/plan/1"

// Stage says what a session is for.
type Stage string

// The stages, in the order in which a day is played.
const (
	ListeningStage  Stage = "listening"
	RecordingsStage Stage = "recordings"
	WarmUpStage     Stage = "warm-up"
	ReadStage       Stage = "read-through"
	PassageStage    Stage = "passage"
)

// Playing tells whether the instrument is out of its case.
func (s Stage) Playing() bool { return s == WarmUpStage || s == ReadStage || s == PassageStage }

// Plan is a filled calendar and where it came from.
type Plan struct {
	Format      string       `json:"format"`
	Season      SeasonFile   `json:"season"`
	From        Date         `json:"from"`
	To          Date         `json:"to"`
	Changed     Date         `json:"changed,omitempty"`  // the day of the last planning that changed a session
	Warned      []string     `json:"warned,omitempty"`   // warnings of the season file that were told with it
	Calendar    string       `json:"calendar,omitempty"` // Season.CalendarKey of the first plan of the season; see Follow
	Provenance  Provenance   `json:"provenance"`
	Sessions    []Session    `json:"sessions"`
	Unplaced    []Unplaced   `json:"unplaced"`
	Days        []Day        `json:"days"`
	Cancelled   []Cancelled  `json:"cancelled,omitempty"`    // see Follow
	ChangedDays []ChangedDay `json:"changed_days,omitempty"` // see Follow
}

// SeasonFile names the season file a plan was made from.
type SeasonFile struct {
	File    string `json:"file"`
	SHA256  string `json:"sha256"`
	Record  int    `json:"record,omitempty"`  // the last entry of the record that was known
	Content string `json:"content,omitempty"` // Season.Content of the season planned, record included
}

// PlanStatus says how far the solving went.
type PlanStatus string

// The statuses of a plan.
const (
	Proven    PlanStatus = "proven"     // every wish equals its bound, or is above it by its tolerance at most
	NotProven PlanStatus = "not proven" // the work was done; some wish stands above its bound
	CutShort  PlanStatus = "cut short"  // a time limit or an interruption ended the work
	FirstPlan PlanStatus = "first plan" // the greedy plan, nothing better was looked for
)

// Provenance says what made a plan and how good it is.
type Provenance struct {
	Engine  string      `json:"engine"`
	Status  PlanStatus  `json:"status"`
	Seed    int         `json:"seed"`
	Seconds float64     `json:"-"` // never in the file: the same season gives the same bytes
	Wishes  []WishValue `json:"wishes"`
}

// WishValue is one wish measured on a plan. Bound is proven: no plan that costs
// no more in the wishes before this one, or only what their tolerances allow, costs
// less in it. Tolerance is how many percent of it may be spent on the wishes after it.
type WishValue struct {
	Name      string  `json:"name"`
	Value     float64 `json:"value"`
	Bound     float64 `json:"bound"`
	Unit      string  `json:"unit"`
	Tolerance int     `json:"tolerance,omitempty"`
}

// Session is one piece of work on one day.
type Session struct {
	ID       string  `json:"id"` // stays the same when the session moves
	Date     Date    `json:"date"`
	Start    *Clock  `json:"start"` // nil when the season gives no hours
	Ends     *Clock  `json:"ends"`
	Rests    []Span  `json:"rests,omitempty"` // between Start and Ends, in order; they are no part of Minutes
	Minutes  Minutes `json:"minutes"`
	Playing  bool    `json:"playing"`
	Stage    Stage   `json:"stage"`
	Part     string  `json:"part,omitempty"`     // programme/part; empty for a warm-up
	Passage  *string `json:"passage"`            // programme/part/passage
	Visit    *int    `json:"visit"`              // 1..Visits
	Visits   *int    `json:"visits"`             // visits of the passage's recipe
	Number   int     `json:"number,omitempty"`   // on its day's sheet, from 1; 0 in plans of older versions: its place in the day
	Sequence int     `json:"sequence,omitempty"` // times this session has changed since it was first planned
}

// Unplaced is a session that the plan leaves out.
type Unplaced struct {
	ID      string  `json:"id"`
	Stage   Stage   `json:"stage"`
	Part    string  `json:"part"`
	Passage *string `json:"passage"`
	Visit   *int    `json:"visit"`
	Minutes Minutes `json:"minutes"`
}

// Untouched tells whether leaving a session out leaves something unread, or a
// passage not worked at at all. What else is left out is a visit or a hearing less.
func (u *Unplaced) Untouched() bool {
	return u.Stage == ReadStage || u.Visit != nil && *u.Visit == 1 && !u.upkeep()
}

func (u *Unplaced) upkeep() bool { return strings.Contains(u.ID, "/"+upkeepWord) }

func (v *Session) upkeep() bool { return strings.Contains(v.ID, "/"+upkeepWord) }

// Day sums up one day of a plan.
type Day struct {
	Date     Date    `json:"date"`
	Cap      Minutes `json:"cap"`
	Services Minutes `json:"services"`        // with what else is played
	Other    Minutes `json:"other,omitempty"` // of these, what belongs to no programme
	WarmUp   Minutes `json:"warm_up"`         // 0 when nothing is planned to be played
	Planned  Minutes `json:"planned"`         // planned playing, warm-up apart
	Rest     bool    `json:"rest"`
}

// Cancelled is a session that an earlier plan held and this one does not.
type Cancelled struct {
	ID       string  `json:"id"`
	Date     Date    `json:"date"`
	Start    *Clock  `json:"start"`
	Minutes  Minutes `json:"minutes"`
	Sequence int     `json:"sequence"`
}

// ChangedDay is a day whose list of sessions differs from what it was when the
// day was first given any.
type ChangedDay struct {
	Date     Date `json:"date"`
	Sequence int  `json:"sequence"`         // times the list has changed, 1 or more
	Blocks   int  `json:"blocks,omitempty"` // most blocks that the day had in earlier plans
}

// Load gives the day's playing minutes, services included.
func (d Day) Load() Minutes { return d.Services + d.WarmUp + d.Planned }

// Renumber gives the sessions the numbers of their day's sheet, by which the
// player names them: 1, 2, … in the order in which they are played. On days up
// to today, which may have been shown, a session keeps the number with which the
// earlier plan has it there, and one that is new comes after the highest in use.
// The sessions are put in the order of days and numbers, so that their order says
// no more than they do. The earlier plan may be nil.
func (p *Plan) Renumber(earlier *Plan, today Date) {
	had, highest := map[SessionDay]int{}, map[Date]int{}
	if earlier != nil {
		for i := range earlier.Sessions {
			if v := &earlier.Sessions[i]; v.Date <= today {
				had[v.Key()] = v.Number
				highest[v.Date] = max(highest[v.Date], v.Number)
			}
		}
	}
	for date, day := range p.ByDate() {
		for _, v := range day {
			if v.Number = had[v.Key()]; v.Number == 0 {
				highest[date]++
				v.Number = highest[date]
			}
		}
	}
	slices.SortStableFunc(p.Sessions, func(a, b Session) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.Number, b.Number))
	})
}

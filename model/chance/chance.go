// Package chance says how sure a plan is: it plays the days ahead through many
// times, by luck, and counts in how many of them each part is ready at its first
// rehearsal. Here stand what may go wrong, how a player then goes on, and the
// counting. It chooses no day: the plan does, and what becomes of it is the rule
// below. It reads and writes no file.
//
// # What may go wrong
//
// Guess has it in numbers; GuessOf takes them from the record, shrunk to what is
// supposed beforehand, and has the sources:
//
//   - A day is lost: nothing planned is done on it. After a lost day the next is
//     lost more often, so that illness takes days in a row, and after some in a row
//     the way back leaves less room (spell.go). Services are no matter of ours.
//   - A session takes longer or shorter than estimated. All work of one kind takes
//     a share of its estimate that nobody knows yet (model.Spread.Mean, off by
//     Ratio: normal, half of the variance common to all kinds, kept within 0.2 and
//     3); beside that each session is off by itself. What it takes is a gamma
//     variable of mean share·m and variance share·m·Minute. So minutes are never
//     negative, are more often a little short and sometimes much too long, and a
//     passage cut in two is as sure as the whole: sums of such variables are of
//     the same kind. It is the season file's estimate that counts; the minutes
//     that are planned, with what was learnt or without, are what the player
//     fits into the days.
//   - A check does not hold (model/memory): then its visit before and itself are
//     wanted again, the first from the next day on.
//   - A read-through finds passages that nobody had marked, each with the recipe
//     of a difficulty from 1 to 3, unless the part was estimated as a whole.
//   - A part comes late.
//
// # How the player goes on
//
// Day by day, from the first day ahead. On a day:
//
//   - What stands on it is done, what is due first first, among equals in the
//     order of the plan, as long as the day has room: its cap less services and
//     warm-up, and what the free hours hold. A session that takes longer runs on
//     while there is room; the rest of it is still to do.
//   - Where others took less, what stands later than it was planned is done in the
//     room that is left. Nothing else is pulled forward on the day itself.
//   - The rules hold: listening, read-through, visits in their order and at their
//     least gaps (shorter where the time is short, as model.Habits.ShortGaps has
//     it), all once before any a third time, the limits of a day.
//
// In the evening what was not done, and what came up, is planned again, one session
// after the other (insert.go): on the first day with room that leaves the visit after
// it where it stands, else on the first with room. Where no day before it is due has
// room, one other session is moved to another day, sooner or later; where that does
// not help the session that is worth least by the minute (model/worth.go) is let go,
// which are last checks as a rule, and comes back should room be found. That is one step
// of what planning again does. How near it comes is measured on seasons that were
// really planned again (cmd/bench/simulation).
//
// # Ready
//
// A part is ready in a run when everything of it that is planned to be played is
// done before it is due: the read-through and the visits, those that came back and
// those of passages that were found with them. What a plan leaves out
// is not asked for, as long as it leaves anything in; Chance.LeftOut says how much
// that is.
//
// That is a hard measure: one short check that is missing counts like a part unread.
// So Chance says beside it what is likely missing, how surely each passage is worked
// at as often as its recipe has it but for the last check, and how many passages
// hold on the day by model/memory.
//
// The numbers drawn for a day, a kind and a session are the same in every call
// with the same seed and season, whatever the plan and whatever Change asks
// (common random numbers). So differences between two calls are far surer than
// either chance.
package chance

import (
	"cmp"
	"math"
	"runtime"
	"slices"
	"sync"

	"primaprova/model"
)

// Options says how often and with what luck a plan is played. The zero value is
// 1000 times, by the record's guess.
type Options struct {
	Runs   int    // 0: 1000
	Seed   uint64 // another seed, other luck
	Guess  *Guess // nil: GuessOf
	Change Change // what is supposed to be otherwise
}

// Change is what would be otherwise, the plan being the same to begin with.
type Change struct {
	More    map[model.Date]model.Minutes // minutes by which the caps of these days are higher (none of rest days and days off)
	Without map[string]bool              // ids of planned sessions that are given up
	NoLost  bool                         // no day is lost
	Exact   bool                         // everything takes its estimate, checks hold, nothing is found, no part comes late
}

// Chance is how sure one part is.
type Chance struct {
	Part    string
	Due     model.Date // the last date that something planned of it is for: the first rehearsal, if it came in time
	Ready   float64    // share of the runs in which it is ready, 0..1
	Error   float64    // standard error of Ready; 0 only where nothing is left to do
	Runs    int
	Left    int        // planned sessions of playing that lie ahead; 0: nothing is left to do
	LeftOut int        // sessions that the plan leaves out
	Usually model.Date // the day by which it is ready in half of the runs, planned work only; zero: it is not
	Missing []Missing  // passages that are missing in some runs, the most often missing first
	Worked  float64    // share of the runs in which it is read and each passage was worked at as often as its recipe has it, the last check apart
	Checks  int        // of the runs in which it is not ready, usually: passages that lack their last check alone,
	More    int        // and passages that lack more than that
	Least   int        // visits that each passage has in nine runs of ten
	Holds   float64    // share of its passages that hold when they are played on its date, by model/memory; a passage never worked at does not
	Doubt   float64    // standard deviation of Holds in one life: luck, and what is not known of the player
}

// Missing is a passage that is not ready in some runs.
type Missing struct {
	Passage string // the part's name where it is the read-through
	Share   float64
}

func (o *Options) runs() int {
	if o.Runs <= 0 {
		return 1000
	}
	return o.Runs
}

// Of plays a plan and gives the chance of each part whose first rehearsal lies
// ahead, in the order of the season file. The season is the one with its record
// (Season.With); the history may be nil. The same arguments give the same
// chances.
func Of(s *model.Season, h *model.History, p *model.Plan, o Options) []Chance {
	t := newTable(s, h, p, &o)
	runs := o.runs()
	var mu sync.Mutex
	sum := newCount(t)
	share(runs, func(from, to int) {
		g, c := newGame(t), newCount(t)
		for run := from; run < to; run++ {
			g.draw(uint64(run))
			g.play(t.days)
			c.add(g)
		}
		mu.Lock()
		defer mu.Unlock()
		sum.merge(c) // whole numbers: their order makes no difference
	})
	return sum.chances(runs)
}

// share plays runs with as many hands as there are.
func share(runs int, play func(from, to int)) {
	hands := min(runtime.GOMAXPROCS(0), runs)
	var wg sync.WaitGroup
	for i := range hands {
		wg.Go(func() { play(runs*i/hands, runs*(i+1)/hands) })
	}
	wg.Wait()
}

// Weakest gives the chances in the order of how sure they are, the least sure
// first, among equals the one that is due first.
func Weakest(all []Chance) []Chance {
	out := slices.Clone(all)
	slices.SortStableFunc(out, func(a, b Chance) int { return cmp.Or(cmp.Compare(a.Ready, b.Ready), cmp.Compare(a.Due, b.Due)) })
	return out
}

// standardError gives the standard error of a share seen x times in n runs. At
// the ends, where the plain formula says 0, one more of each kind is supposed
// (Laplace's rule of succession).
func standardError(x, n int) float64 {
	share := float64(x+1) / float64(n+2)
	return math.Sqrt(share * (1 - share) / float64(n))
}

package main

import (
	"cmp"
	"errors"
	"io/fs"
	"os"
	"slices"
	"strings"

	"primaprova/io/disk"
	"primaprova/io/planfile"
	"primaprova/model"
)

// sincePrefix marks a plan that was named by the player.
const sincePrefix = "since:"

// earlierPath gives the plan before the one that stands: season.yaml has
// season.plan.earlier.json.
func earlierPath(season string) string {
	return strings.TrimSuffix(planPath(season), ".json") + ".earlier.json"
}

// putPlan writes a plan beside its season file. The plan that stood is kept as
// the earlier one, unless the two have the same sessions: then what changed
// last is still what there is to show.
//
// Where another plan has been made since the one that this planning began with,
// nothing is written. Who calls it holds the season.
func (a *app) putPlan(season string, p *model.Plan, h *happened) error {
	if disk.Sum(planPath(season)) != h.stood {
		return wrong("%s: was made anew by somebody else meanwhile; this plan was not written", planPath(season)).then("plan %s", quoted(season))
	}
	if stood, err := planfile.Read(planPath(season)); err == nil && !sameSessions(stood, p) {
		b, err := os.ReadFile(planPath(season))
		if err != nil {
			return fileTrouble(err)
		}
		path := earlierPath(season)
		if err := disk.Write(path, b, 0o644); err != nil {
			return cannotWrite(path, err)
		}
	}
	if err := planfile.Write(planPath(season), p); err != nil {
		return cannotWrite(planPath(season), err)
	}
	return nil
}

// sameSessions tells whether two plans hold the same sessions at the same times,
// in whatever order within a day.
func sameSessions(p, q *model.Plan) bool {
	return slices.EqualFunc(named(p), named(q), func(a, b model.Session) bool {
		return a.ID == b.ID && a.Date == b.Date && a.Minutes == b.Minutes && alike(a.Start, b.Start)
	})
}

// named gives a plan's sessions by day and name.
func named(p *model.Plan) []model.Session {
	return slices.SortedFunc(slices.Values(p.Sessions), func(a, b model.Session) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.ID, b.ID))
	})
}

// showChanges shows what changed since an earlier plan: the file given, or the
// one that the last planning left behind.
func showChanges(w *view, _ model.Date, earlier string) (func(), any, error) {
	earlier, since := strings.CutPrefix(earlier, sincePrefix)
	p, err := planfile.Read(earlier)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil, wrong("%s: there is no earlier plan; --since names a plan file to compare with", earlier).then("show changes --help")
	}
	if err != nil {
		t := fileTrouble(err)
		t.code = exitInput
		return nil, nil, t
	}
	c := w.changes(p, w.Plan, 0)
	if !since {
		c.On = w.Plan.Changed
	}
	return func() {
		if c.On != 0 {
			w.say.title("%s: what the planning of %s changed, the last to change anything", w.Season.Title, w.say.day(c.On))
		} else {
			w.say.title("%s: what changed since the earlier plan", w.Season.Title)
		}
		w.sayChanges(c, 0)
	}, c, nil
}

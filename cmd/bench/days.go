package main

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"primaprova/io/seasonfile"
	"primaprova/model"
	"primaprova/solver"
	"primaprova/solver/cpsat"
	"primaprova/solver/hours"
	"primaprova/solver/ortools"
)

// days lays out a whole season in hours, then one day of it that has changed.
// Days that stand are kept without being solved.
func (b *bench) days() {
	const group = "days"
	b.doing("days: the whole season")
	fail := func(err error) { b.add(row{group: group, what: "FAILED", note: err.Error()}) }
	f, err := seasonfile.Read(b.demo)
	if err != nil {
		fail(err)
		return
	}
	if !f.Season.HasHours() {
		b.add(row{group: group, what: "nothing", note: "the season gives no hours"})
		return
	}
	path, err := ortools.Locate(b.ctx, ortools.CPSAT, "")
	if err != nil {
		fail(err)
		return
	}
	s, day := f.Season, model.Date(0)
	var l *cpsat.Library
	var standing *model.Plan
	lay := func(what string, change func(*model.Plan)) {
		plan, err := solver.Greedy(s, solver.Options{})
		if err != nil {
			fail(err)
			return
		}
		had, n := model.DayCost{}, 0
		for d, sessions := range plan.ByDate() {
			n++
			for k, c := range s.DayCost(d, sessions, nil) {
				had[k] += c
			}
		}
		change(plan)
		at, cpu := time.Now(), solver.Processor()
		if l == nil {
			if l, err = cpsat.Open(path); err != nil {
				fail(err)
				return
			}
		}
		changed, err := hours.LayOutDays(b.ctx, l, solver.Tuned.HoursWork, s, plan, standing, s.From)
		if err != nil {
			fail(err)
			return
		}
		r := row{group: group, what: what, seconds: time.Since(at).Seconds(), cpu: solver.Processor() - cpu}
		var has model.DayCost
		for d, sessions := range plan.ByDate() {
			for k, c := range s.DayCost(d, sessions, nil) {
				has[k] += c
			}
			if standing == nil && (day == 0 || cmp.Or(len(plan.ByDate()[day])-len(sessions), int(d-day)) < 0) {
				day = d
			}
		}
		r.note = fmt.Sprintf("%d of %d days have other hours; all wishes %v, by first fit %v", len(changed), n, has, had)
		b.add(r)
		if standing == nil {
			standing = plan
		}
	}
	lay("the whole season, loading CP-SAT included", func(*model.Plan) {})
	if standing == nil {
		return
	}
	lay("over a plan that stands, its fullest day without one session", func(p *model.Plan) {
		i := slices.IndexFunc(p.Sessions, func(v model.Session) bool { return v.Date == day && v.Stage == model.PassageStage })
		p.Sessions = slices.Delete(p.Sessions, i, i+1)
		s.Finish(p)
	})
}

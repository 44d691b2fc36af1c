package tiny

import (
	"cmp"
	"slices"

	"primaprova/model"
	"primaprova/solver/instance"
)

func compareScores(a, b instance.Score) int {
	for i := range a {
		if c := cmp.Compare(a[i], b[i]); c != 0 {
			return c
		}
	}
	return 0
}

// everyStages lists the choices of days for a part's stages.
func everyStages(p *instance.Instance, q *instance.Part) (out []bruteChoice) {
	days := func(n, minutes, lo, hi int) []int {
		out := []int{instance.None}
		for d := lo; d <= hi && minutes > 0; d++ {
			if n == 0 && !maySit(p, q, d) || n > 0 && (q.Pin[n] != instance.None && q.Pin[n] != d || q.Refused[n] == d) {
				continue
			}
			out = append(out, d)
		}
		return out
	}
	for _, listen := range days(0, q.Listen, q.WinLo, q.WinHi) {
		for _, read := range days(1, q.Read, q.WinLo, q.WinHi) {
			if read != instance.None && q.Listen > 0 && (listen == instance.None || listen > read) {
				continue
			}
			for _, rec := range days(2, q.Rec, q.RecLo, q.RecHi) {
				if rec != instance.None && !q.ReadDone && (read == instance.None || rec <= read) {
					continue
				}
				c := bruteChoice{days: []int{listen, read, rec}}
				for n, d := range c.days {
					switch {
					case [3]int{q.Listen, q.Read, q.Rec}[n] == 0:
					case d == instance.None:
						c.worth[model.Coverage] += int64([3]int{q.ListenWorth, q.ReadWorth, q.RecWorth}[n])
					case n == 0:
						for k, at := range sitDays(p, q, d) {
							c.worth[model.Closeness] += distance(p, sittings(q)[k].Stand, at)
						}
					default:
						c.worth[model.Closeness] += distance(p, q.Stand[n], d)
					}
				}
				out = append(out, c)
			}
		}
	}
	return out
}

// sittings gives the sittings of a part that lie ahead, also a single one.
func sittings(q *instance.Part) []instance.Sit {
	if q.Sits != nil {
		return q.Sits
	}
	return []instance.Sit{{ID: q.ListenID, Minutes: q.Listen, Stand: q.Stand[0], Pin: q.Pin[0], Refused: q.Refused[0]}}
}

// sitDays gives their days where the last lies on day d, running but for days off;
// nothing where there are not as many.
func sitDays(p *instance.Instance, q *instance.Part, d int) []int {
	var out []int
	for d >= max(p.Today, q.WinLo) && len(out) < len(sittings(q)) {
		if len(out) == 0 || !p.Season.Limits.OffOn(p.Season.From+model.Date(d)) {
			out = append([]int{d}, out...)
		}
		d--
	}
	if len(out) < len(sittings(q)) {
		return nil
	}
	return out
}

// maySit tells whether pins and refusals let them lie there.
func maySit(p *instance.Instance, q *instance.Part, d int) bool {
	days := sitDays(p, q, d)
	for k, at := range days {
		if x := sittings(q)[k]; x.Pin != instance.None && x.Pin != at || x.Refused == at {
			return false
		}
	}
	return days != nil
}

// distance gives what it costs to plan on day d what stood on another: a day's
// move costs 3 in the next seven days, 2 in the fortnight after them, then 1; that it
// moves at all counts as three days more.
func distance(p *instance.Instance, stand, d int) int64 {
	weight := int64(1)
	switch {
	case stand == instance.None || stand == d:
		return 0
	case stand < p.Today+7:
		weight = 3
	case stand < p.Today+21:
		weight = 2
	}
	return weight * int64(3+max(stand-d, d-stand))
}

// everySchedule lists the choices of days for a passage's visits that begin
// with the days given.
func everySchedule(p *instance.Instance, q *instance.Passage, days []int) []bruteChoice {
	k := len(days)
	c := bruteChoice{days: slices.Clone(days)}
	for n, v := range q.Visits {
		if n >= k {
			c.worth[model.Coverage] += int64(v.Value)
			continue
		}
		c.worth[model.Closeness] += distance(p, v.Stand, days[n])
		if n > 0 {
			c.worth[model.Spacing] += int64(max(0, days[n]-days[n-1]-v.Preferred))
		} else if q.Done > 0 {
			c.worth[model.Spacing] += int64(max(0, days[0]-q.Since-v.Preferred))
		}
	}
	if k > 0 {
		c.worth[model.ReadyBy] = int64(max(0, days[k-1]-q.Ready))
		c.worth[model.Spacing] += int64(max(0, q.Fresh-days[k-1]))
	}
	out := []bruteChoice{c}
	if k == len(q.Visits) {
		return out
	}
	v := &q.Visits[k]
	for d := q.Lo; d <= q.Hi; d++ {
		if v.Pin != instance.None && v.Pin != d || k == 0 && q.Done == 0 && !p.Season.RoomOn(p.Season.From+model.Date(d)).New || k > 0 && d-days[k-1] < v.Least || k == 0 && q.Done > 0 && d-q.Since < v.Least {
			continue
		}
		out = append(out, everySchedule(p, q, append(days[:k:k], d))...)
	}
	return out
}

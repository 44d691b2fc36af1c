package main

import (
	"slices"

	"primaprova/io/planfile"
	"primaprova/io/seasonfile"
)

// warnings says what is odd in a season but does not stand in the way, as far as
// it was not told with the plan that stands: a player who reads the same lines
// every evening reads none.
func (a *app) warnings(f *seasonfile.File) {
	var before []string
	if p, err := planfile.Read(planPath(f.Path)); err == nil {
		before = p.Warned
	}
	all := f.Ahead(a.today(f.Season))
	fresh := slices.DeleteFunc(slices.Clone(all), func(w seasonfile.Fault) bool {
		return !slices.Contains(f.StandIns, w) && slices.Contains(before, told([]seasonfile.Fault{w})[0])
	})
	if len(fresh) > 0 {
		a.say.aside("%s", seasonfile.Text(fresh))
	}
	if n := len(all) - len(fresh); n > 0 {
		a.say.aside("%s as before; check has them.", several(n, "warning", "warnings"))
	}
}

// told gives what warnings are known by from plan to plan: not their lines,
// which move.
func told(warnings []seasonfile.Fault) []string {
	var out []string
	for _, w := range warnings {
		out = append(out, w.Where()+": "+w.Text)
	}
	return out
}

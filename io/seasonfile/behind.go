package seasonfile

import (
	"regexp"
	"slices"
	"strconv"

	"primaprova/model"
)

var ofService = regexp.MustCompile(`^programmes\[(\d+)\](?:\.services\[(\d+)\])?`)

// Ahead gives the warnings without those of services and programmes that lie behind
// on a day: what is over is over.
func (f *File) Ahead(today model.Date) []Fault {
	return slices.DeleteFunc(slices.Clone(f.Warnings), func(w Fault) bool {
		m := ofService.FindStringSubmatch(w.Path)
		if m == nil || slices.Contains(f.StandIns, w) {
			return false
		}
		i, _ := strconv.Atoi(m[1])
		services := f.Season.Programmes[i].Services
		if j, err := strconv.Atoi(m[2]); err == nil && j < len(services) {
			return services[j].Date < today
		}
		return len(services) > 0 && !slices.ContainsFunc(services, func(v model.Service) bool { return v.Date >= today })
	})
}

package caldav

import (
	"context"
	"maps"
	"slices"
	"strings"
)

// keyed is how long a name is up to the end of the key in it: all of a season's
// objects begin with one.
func keyed(name, family string) string {
	rest := strings.TrimPrefix(name, family)
	if i := strings.IndexByte(rest, '-'); i >= 0 {
		return name[:len(family)+i+1]
	}
	return name
}

// own gives of a calendar's objects those that are this publication's: under its
// key, and under an earlier one where the plan that knew it is lost. Those are
// known by the state, which names them, or by showing what is to be shown now;
// else they would stay for ever, beside the new ones. Other seasons' objects
// stay out of it.
func (c *Calendar) own(ctx context.Context, p *Publication, state *State, all map[string]string, r *Report) (map[string]string, error) {
	out := map[string]string{}
	others := map[string][]string{} // by what their names begin with
	for _, name := range slices.Sorted(maps.Keys(all)) {
		if strings.HasPrefix(name, p.Prefix) {
			out[name] = all[name]
		} else {
			key := keyed(name, p.Family)
			others[key] = append(others[key], name)
		}
	}
	for _, key := range slices.Sorted(maps.Keys(others)) {
		names := others[key]
		ours := slices.ContainsFunc(names, func(name string) bool { _, known := state.Objects[name]; return known })
		if !ours && len(out) == 0 && p.Twin != nil { // nothing stands under the new key yet
			found, err := c.fetch(ctx, names)
			if err != nil {
				return nil, err
			}
			twins := 0
			for _, v := range found {
				if p.Twin([]byte(v.data)) {
					twins++
				}
			}
			ours = twins > 0 && 3*twins >= len(found)
		}
		if !ours {
			r.Strangers += len(names)
			continue
		}
		for _, name := range names {
			out[name] = all[name]
		}
	}
	return out, nil
}

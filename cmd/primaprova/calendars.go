package main

import (
	"context"
	"strings"
	"time"

	"primaprova/io/seasonfile"
	"primaprova/io/webcal"
)

// calendarsPath gives the folder of copies of other people's calendars:
// season.yaml has season.calendars.
func calendarsPath(season string) string {
	return beside(season, ".calendars")
}

func copies(season string) *webcal.Store {
	return webcal.Open(calendarsPath(season), seasonfile.MostCalendarBytes, nil)
}

// sources are other people's calendars for who plans: those at addresses are
// asked for.
func (a *app) sources(season string) seasonfile.Sources {
	store := copies(season)
	a.kept = store
	return seasonfile.Sources{Kept: store.Kept, Fetch: func(address string) ([]byte, error) {
		ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
		defer cancel()
		return store.Fetch(ctx, address)
	}}
}

// standingSeason reads a season for who works from the plan that stands: neither
// a network nor somebody else's calendar stands in the way. What was taken
// instead is said.
func (a *app) standingSeason(path string) (*seasonfile.File, error) {
	f, err := a.seasonFrom(path, seasonfile.Sources{Kept: copies(path).Kept, Standing: true})
	if err == nil && len(f.StandIns) > 0 {
		a.say.aside("%s", seasonfile.Text(f.StandIns))
	}
	return f, err
}

// keepCopies keeps the calendars that a season was read from, those at addresses
// alone where only they are wanted. Where that fails the season is no worse.
func (a *app) keepCopies(f *seasonfile.File, addresses bool) {
	if a.kept == nil {
		return
	}
	for name, b := range f.Calendars {
		if strings.HasPrefix(name, "https://") || !addresses {
			if err := a.kept.Keep(name, b); err != nil {
				a.say.aside("%s: %v", calendarsPath(f.Path), reason(err))
				return
			}
		}
	}
}

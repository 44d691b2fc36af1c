package caldav

import (
	"context"

	webdav "github.com/emersion/go-webdav/caldav"
)

// Find gives the addresses of the user's calendars, by way of the user's
// principal (RFC 5397) and the folders of calendars that it names (RFC 4791,
// section 6.2.1).
func (c *Calendar) Find(ctx context.Context) ([]string, error) {
	lib, err := webdav.NewClient(c, c.Address())
	if err != nil {
		return nil, err
	}
	principal, err := lib.FindCurrentUserPrincipal(ctx)
	if err != nil {
		return nil, err
	}
	home, err := lib.FindCalendarHomeSet(ctx, principal)
	if err != nil {
		return nil, err
	}
	found, err := lib.FindCalendars(ctx, home)
	if err != nil {
		return nil, err
	}
	var out []string
	for _, f := range found {
		u := *c.base
		u.Path, u.RawPath = f.Path, ""
		out = append(out, u.String())
	}
	return out, nil
}

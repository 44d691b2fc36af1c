package seasonfile

import (
	"fmt"
	"slices"

	"primaprova/model"
)

// Pin gives the season with a session pinned to a day, in the place of a pin
// that it has already.
func (f *File) Pin(session string, d model.Date) (*File, error) {
	want := *f.Season
	want.Pins = slices.Clone(want.Pins)
	var changes []change
	known := false
	for i := range want.Pins {
		if want.Pins[i].Session != session {
			continue
		}
		known = true
		if want.Pins[i].Date != d {
			want.Pins[i].Date = d
			c, err := f.scalar(fmt.Sprintf("pins[%d].date", i), d.String())
			if err != nil {
				return nil, err
			}
			changes = append(changes, c)
		}
	}
	if known && len(changes) == 0 {
		return f, nil
	}
	if !known {
		e := f.editor()
		pin := model.Pin{Session: session, Date: d}
		want.Pins = append(want.Pins, pin)
		changes = e.add(e.root, "pins", e.get(e.root, "pins"), entryOf([]pair{{"session", plainText(session)}, {"date", d.String()}}))
	}
	return f.edited(changes, &want)
}

// Unpin gives the season without the pins of a session.
func (f *File) Unpin(session string) (*File, error) {
	out, err := f.withoutPins(func(pinned string) bool { return pinned == session })
	if err != nil {
		return nil, err
	}
	if out == f {
		var pinned []string
		for _, p := range f.Season.Pins {
			pinned = append(pinned, p.Session)
		}
		return nil, f.refusal(session, "is not pinned", Nearest(session, pinned))
	}
	return out, nil
}

// withoutPins gives the season without the pins of some sessions.
func (f *File) withoutPins(of func(session string) bool) (*File, error) {
	for i := len(f.Season.Pins) - 1; i >= 0; i-- {
		if !of(f.Season.Pins[i].Session) {
			continue
		}
		want := *f.Season
		want.Pins = slices.Delete(slices.Clone(want.Pins), i, i+1)
		e, err := f.editor(), error(nil)
		if f, err = f.edited(e.remove(e.root, "pins", i), &want); err != nil {
			return nil, err
		}
	}
	return f, nil
}

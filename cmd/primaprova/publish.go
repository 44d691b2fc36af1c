package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"net/http"
	"net/url"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"primaprova/io/caldav"
	"primaprova/io/disk"
	"primaprova/io/ical"
)

func publishCommand(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:   "publish [SEASON]",
		Short: "puts the plan on a calendar server",
		Long: `Puts the plan that stands into a calendar on a server (CalDAV), and brings it up
to date when the plan has changed: only what differs is sent. What in the
calendar is not primaprova's is not touched. What is primaprova's and was edited
or removed there by hand is named and left, unless --replace is given.

The setting server is the calendar's address, as the calendar's owner finds it
there; https, or http on this machine. The user and the password come from
PRIMAPROVA_USER and PRIMAPROVA_PASSWORD, or else from a file of two lines that
nobody else may read (chmod 600): the setting credentials, or
primaprova/credentials in the user's configuration folder.

Stopped anywhere, publish again. What was written is remembered in
season.published.json; without that file the calendar itself is looked at.
Exit code 3 says that something was left as it is.`,
		Args: atMost(1),
	}
	replace := c.Flags().Bool("replace", false, "write also over what was edited or removed by hand")
	addSettings(c, append([]string{"server", "credentials", "calendar", "colour", "alarm", "day_alarm", "services"}, localeSettings...)...)
	c.RunE = func(_ *cobra.Command, args []string) error {
		f, p, h, err := a.planned(a.seasonName(args))
		if err != nil {
			return err
		}
		calendar, err := a.calendarServer()
		if err != nil {
			return err
		}
		objects, err := ical.Objects(h.season, p, a.calendarOptions(h.history))
		if err != nil {
			return wrong("publish: %v", err)
		}
		path := publishedPath(f.Path)
		state, err := readPublished(path)
		if err != nil {
			return err
		}
		todo := &caldav.Publication{Prefix: ical.Prefix(h.season, p), Family: ical.Family, Twin: ical.Twins(objects), Untouched: ical.Untouched, Replace: *replace,
			Save: func(s *caldav.State) error { return writePublished(path, s) }}
		for _, o := range objects {
			todo.Objects = append(todo.Objects, caldav.Object(o))
		}
		ctx, stop := interruptible(c.Context())
		defer stop()
		if a.say.live {
			todo.Progress = func(done, of int) { own(a.say.err, fmt.Sprintf("\r\x1b[K%d of %d", done, of)) }
		} else {
			a.say.aside("Looking through %s …", several(len(objects), "entry", "entries"))
		}
		report, err := calendar.Publish(ctx, todo, state)
		if a.say.live {
			own(a.say.err, "\r\x1b[K")
		}
		if err != nil {
			return a.unpublished(ctx, calendar, report, err, f.Path)
		}
		a.sayPublished(calendar, todo, report, f.Path)
		if len(report.Conflicts) > 0 {
			return &trouble{code: exitLeftOut}
		}
		return nil
	}
	return c
}

// calendarServer opens the calendar that the settings name.
func (a *app) calendarServer() (*caldav.Calendar, error) {
	address := a.set.get("server")
	if address == "" {
		return nil, wrong("publish: name the calendar's address with --server or in the settings").then("publish --help")
	}
	who, err := a.credentials()
	if err != nil {
		return nil, err
	}
	calendar, err := caldav.Open(address, who, nil)
	if err != nil {
		return nil, wrong("%s: %q: %v", a.set.named("server"), bare(address), err)
	}
	return calendar, nil
}

// bare leaves away what of an address is nobody's business.
func bare(address string) string {
	if u, err := url.Parse(address); err == nil && u.User == nil {
		return address
	}
	_, rest, ok := strings.Cut(address, "@")
	if !ok {
		return address
	}
	return "...@" + rest
}

// unpublished says why publishing broke off.
func (a *app) unpublished(ctx context.Context, calendar *caldav.Calendar, r *caldav.Report, err error, season string) error {
	address := calendar.Address()
	done := r.Added + r.Changed + r.Removed
	var refused *caldav.Refused
	switch {
	case ctx.Err() != nil:
		return (&trouble{code: exitStopped, err: fmt.Errorf("stopped; %s made, %d to go", several(done, "change", "changes"), r.Waiting)}).then("publish %s", quoted(season))
	case errors.Is(err, caldav.ErrNoCalendar):
		t := wrong("%s: %v", address, err)
		if found, err := calendar.Find(ctx); err == nil && len(found) > 0 {
			t = &trouble{code: exitInput, lines: append([]string{fmt.Sprintf("%s: %v; the user's calendars are", address, caldav.ErrNoCalendar)}, found...)}
			t.next = "publish " + quoted(season) + " --server " + quoted(found[0])
		}
		return t
	}
	counts := ""
	if done+r.Waiting > 0 {
		counts = fmt.Sprintf("; %s made, %d to go", several(done, "change", "changes"), r.Waiting)
	}
	if errors.As(err, &refused) && (refused.Status == http.StatusUnauthorized || refused.Status == http.StatusForbidden && done == 0) {
		return wrong("%s: %v; are user and password right?%s", address, err, counts).then("publish --help")
	}
	text := fmt.Errorf("%s: %w%s", address, err, counts)
	return (&trouble{code: exitInternal, err: text}).then("publish %s", quoted(season))
}

// conflicts says each kind of conflict.
var conflicts = map[caldav.Kind]string{
	caldav.Edited:       "was edited by hand; left as it is",
	caldav.EditedGone:   "was edited by hand, and the plan no longer holds it; left as it is",
	caldav.Removed:      "was removed by hand; not put back",
	caldav.Meanwhile:    "changed in the calendar while publishing; left as it is",
	caldav.Declined:     "was refused by the server",
	caldav.UnderAnother: "is in the calendar already, taken in from a file; remove it there",
}

// mostConflicts are named one by one; the rest is counted.
const mostConflicts = 20

func (a *app) sayPublished(calendar *caldav.Calendar, p *caldav.Publication, r *caldav.Report, season string) {
	titles := map[string]string{}
	for _, o := range p.Objects {
		titles[o.Name] = o.Title
	}
	a.say.line("%s: %d new, %d changed, %d removed, %d as they were.", calendar.Address(), r.Added, r.Changed, r.Removed, r.Same)
	if r.Strangers > 0 && r.Same+r.Changed == 0 {
		a.say.line("%s of other seasons, or of a plan that is lost, are there too and stay.", several(r.Strangers, "entry", "entries"))
	}
	replaceable := false
	for i, c := range r.Conflicts {
		replaceable = replaceable || c.What != caldav.UnderAnother && c.What != caldav.Declined
		if i < mostConflicts {
			title := titles[c.Name]
			if title == "" {
				title = c.Name
			}
			a.say.line("%s: %s.", title, conflicts[c.What])
		}
	}
	if more := len(r.Conflicts) - mostConflicts; more > 0 {
		a.say.line("And %d more.", more)
	}
	if replaceable {
		a.say.next("publish %s --replace", quoted(season))
	}
}

// publishedPath gives what is remembered of the calendar: season.yaml has
// season.published.json.
func publishedPath(season string) string {
	return beside(season, ".published.json")
}

// readPublished gives an empty state where nothing is remembered, or nothing
// that makes sense: the calendar itself is looked at then.
func readPublished(path string) (*caldav.State, error) {
	b, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return &caldav.State{}, nil
	}
	if err != nil {
		return nil, fileTrouble(err)
	}
	var s caldav.State
	if json.Unmarshal(b, &s) != nil || s.Format != caldav.StateFormat {
		return &caldav.State{}, nil
	}
	return &s, nil
}

func writePublished(path string, s *caldav.State) error {
	b, err := json.MarshalIndent(s, "", " ")
	if err != nil {
		return err
	}
	release, err := disk.Hold(path)
	if err != nil {
		return err
	}
	defer release()
	return disk.Write(path, append(b, '\n'), 0o644)
}

package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"primaprova/io/disk"
	"primaprova/io/seasonfile"
	"primaprova/model"
)

func newCommand(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:   "new [FILE]",
		Short: "a season file to start from",
		Long: `Writes a season file to start from: a small example that can be planned as it
stands, with every key explained. FILE is the setting season (season.yaml) when
none is named. A file that is there is never written over, unless --replace is
given; then what was there is kept as season.kept.yaml.`,
		Args: atMost(1),
	}
	replace := c.Flags().Bool("replace", false, "write over a file that is there, which is kept under another name")
	title := c.Flags().String("title", "", "the season's `title`")
	instrument := c.Flags().String("instrument", "", "your `instrument`")
	from := c.Flags().String("from", "", "the season's first `date`; empty: next Monday")
	zone := c.Flags().String("time-zone", "", "the season's time `zone`, like Europe/Oslo; empty: this machine's")
	c.RunE = func(_ *cobra.Command, args []string) error {
		start := seasonfile.Start{Title: *title, Instrument: *instrument, TimeZone: *zone}
		if start.TimeZone == "" {
			start.TimeZone = homeZone()
		} else if _, err := time.LoadLocation(*zone); err != nil {
			return wrong("--time-zone: %q is no time zone like Europe/Oslo", *zone)
		}
		var err error
		if *from == "" {
			start.From = a.nextMonday(start.TimeZone)
		} else if start.From, err = model.SaidDate(*from); err != nil {
			return wrong("--from: %v", err)
		}
		path := a.seasonName(args)
		var b bytes.Buffer
		if err := seasonfile.New(&b, start); err != nil {
			return wrong("%v", err)
		}
		if err := a.alone(path, func() error { return a.create(path, b.Bytes(), *replace) }); err != nil {
			return err
		}
		a.say.aside("Wrote %s.", path)
		a.say.next("check %s", quoted(path))
		return nil
	}
	return c
}

// create writes a new season file, whole or not at all, and over none that is
// there but where told so: then what was there is kept under another name.
func (a *app) create(path string, b []byte, replace bool) error {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return wrong("%s: is a directory; name a file in it", path)
	} else if err == nil && !info.Mode().IsRegular() {
		return wrong("%s: is not a regular file", path)
	}
	was, err := os.ReadFile(path)
	if err == nil && replace {
		kept, err := keepCopy(path, was)
		if err != nil {
			return err
		}
		a.say.aside("Kept what was there as %s.", kept)
		if err := disk.Write(path, b, 0o644); err != nil {
			return cannotWrite(path, err)
		}
		return nil
	}
	switch err := disk.Create(path, b, 0o644); {
	case errors.Is(err, fs.ErrExist):
		return wrong("%s: is there already; name another file to begin another season", path).then("check %s", quoted(path))
	case err != nil:
		return cannotWrite(path, err)
	}
	return nil
}

// keepCopy writes what a season file held beside it: season.yaml becomes
// season.kept.yaml, season.kept2.yaml where that is taken, and so on.
func keepCopy(path string, b []byte) (string, error) {
	ext := filepath.Ext(path)
	for n := 1; ; n++ {
		name := strings.TrimSuffix(path, ext) + ".kept" + ext
		if n > 1 {
			name = fmt.Sprintf("%s.kept%d%s", strings.TrimSuffix(path, ext), n, ext)
		}
		err := disk.Create(name, b, 0o644)
		if err == nil {
			return name, nil
		}
		if !errors.Is(err, fs.ErrExist) {
			return "", cannotWrite(name, err)
		}
	}
}

// nextMonday gives the Monday after today, for a new season to begin with.
func (a *app) nextMonday(zone string) model.Date {
	d := a.set.date("today")
	if d == 0 {
		loc, err := time.LoadLocation(zone)
		if err != nil {
			loc = time.UTC
		}
		d = model.DateIn(time.Now(), loc)
	}
	return d.Monday() + 7
}

// homeZone gives the name of this machine's time zone, or "" where it has none
// that can be told.
func homeZone() string {
	name, set := os.LookupEnv("TZ")
	if !set {
		name = systemZone()
	}
	if _, err := time.LoadLocation(name); err != nil || name == "" || name == "Local" {
		return ""
	}
	return name
}

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

	"github.com/google/renameio/v2"
	"github.com/spf13/cobra"

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
given.`,
		Args: atMost(1),
	}
	replace := c.Flags().Bool("replace", false, "write over a file that is there")
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
		} else if start.From, err = model.ParseDate(*from); err != nil {
			return wrong("--from: %v", err)
		}
		path := a.seasonName(args)
		var b bytes.Buffer
		if err := seasonfile.New(&b, start); err != nil {
			return wrong("%v", err)
		}
		if err := create(path, b.Bytes(), *replace); err != nil {
			return err
		}
		a.say.aside("Wrote %s.", path)
		a.say.next("check %s", quoted(path))
		return nil
	}
	return c
}

// create writes a new file whole or not at all. Without replace the system
// itself sees to it that nothing is written over, also by two at once.
func create(path string, b []byte, replace bool) error {
	there := wrong("%s: is there already; --replace would write over it", path).then("new --replace %s", quoted(path))
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return wrong("%s: is a directory; name a file in it", path)
	} else if err == nil && !replace {
		return there
	}
	if replace {
		if err := renameio.WriteFile(path, b, 0o644, renameio.WithTempDir(filepath.Dir(path))); err != nil {
			return cannotWrite(path, err)
		}
		return nil
	}
	aside, err := renameio.NewPendingFile(path, renameio.WithPermissions(0o644), renameio.WithTempDir(filepath.Dir(path)))
	if err != nil {
		return cannotWrite(path, err)
	}
	defer aside.Cleanup()
	if _, err := aside.Write(b); err != nil {
		return cannotWrite(path, err)
	}
	if err := aside.Sync(); err != nil {
		return cannotWrite(path, err)
	}
	if err := os.Link(aside.Name(), path); errors.Is(err, fs.ErrExist) {
		return there
	} else if err == nil {
		return nil
	}
	// A file system without links: the check above has to do.
	if err := aside.CloseAtomicallyReplace(); err != nil {
		return cannotWrite(path, err)
	}
	return nil
}

// cannotWrite says why a file was not written, without the temporary name that
// it was tried under.
func cannotWrite(path string, err error) error {
	t := fileTrouble(err)
	s := ": " + err.Error()
	t.err = fmt.Errorf("%s: cannot be written: %s", path, s[strings.LastIndex(s, ": ")+len(": "):])
	return t
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
		link, err := os.Readlink("/etc/localtime")
		if err != nil {
			return ""
		}
		_, name, _ = strings.Cut(link, "zoneinfo/")
	}
	if _, err := time.LoadLocation(name); err != nil || name == "" || name == "Local" {
		return ""
	}
	return name
}

package seasonfile

import (
	"bytes"
	"errors"
	"fmt"
	"net/url"
	"regexp"
	"strings"
	"time"

	"primaprova/io/seasonfile/calendar"
	"primaprova/model"
)

// MostCalendarBytes is the largest calendar that is read.
const MostCalendarBytes = calendar.MostBytes

// Sources say where other people's calendars come from besides files, and what
// stands in for one that can't be used.
type Sources struct {
	// Fetch gives the calendar at an address of https. Its error says why not, and
	// does not hold the address. Nil: addresses are known by their copies alone.
	Fetch func(address string) ([]byte, error)
	// Kept gives the last copy of a calendar that could be used, by its address or
	// by the name that the season file has for it. Nil: there are no copies.
	Kept func(name string) (b []byte, at time.Time, ok bool)
	// Standing is for who works from the plan that stands: there a calendar that
	// can't be used does not stand in the way. Its copy takes its place, or nothing.
	Standing bool
	// Begun is for who goes on writing a season: that it has no programmes or no
	// parts yet is a warning then.
	Begun bool

	earlier bool // an earlier season, of which a part is known; see earlier.go
}

// ways are what the season file may want of a calendar at fault.
var ways = []string{"refuse", "leave out", "copy"}

// scheme is how an address begins, also one that is spelt as no program does. A
// drive of Windows has one letter.
var scheme = regexp.MustCompile(`^\s*([A-Za-z][A-Za-z0-9+.-]+):/+`)

// isAddress tells an address from a file's name.
func isAddress(name string) bool { return scheme.MatchString(name) }

// discreet leaves away of an address what not everybody is to know: who has it
// all may read the calendar.
func discreet(name string) string {
	if !isAddress(name) {
		return name
	}
	as := "https://"
	if encrypted(name) == "" { // that it isn't is what is said of it
		as = strings.ToLower(scheme.FindStringSubmatch(name)[1]) + "://"
	}
	u, err := url.Parse(strings.TrimSpace(name))
	if err != nil || u.Host == "" {
		return as + "…"
	}
	return as + u.Host + "/…"
}

// encrypted gives an address its scheme, "" where it is one that is not encrypted:
// webcal is what some programs call https.
func encrypted(name string) string {
	switch m := scheme.FindStringSubmatch(name); strings.ToLower(m[1]) {
	case "https", "webcal", "webcals":
		return "https://" + strings.TrimSpace(name[len(m[0]):])
	}
	return ""
}

// address gives the bytes of a calendar at an address. Where it is not to be had
// the last copy will do, since a network comes and goes.
func (r *reader) address(f field, name string) ([]byte, bool) {
	if encrypted(name) == "" {
		r.wrong(f, "", "is not https")
		return nil, false
	}
	var err error = errors.New("is not asked for now, and no copy is kept")
	if r.sources.Fetch != nil {
		var b []byte
		if b, err = r.sources.Fetch(encrypted(name)); err == nil {
			return b, true
		}
	}
	if b, at, ok := r.kept(name); ok {
		if r.sources.Fetch != nil {
			r.instead(Fault{File: r.file, Line: f.place.Line, Path: f.path, Value: discreet(name),
				Text: fmt.Sprintf("%v; the copy of %s stands in for it", err, at.Format("2006-01-02 15:04"))})
		}
		return b, true
	}
	r.wrong(f, "", "%v", err)
	return nil, false
}

func (r *reader) kept(name string) ([]byte, time.Time, bool) {
	if r.sources.Kept == nil {
		return nil, time.Time{}, false
	}
	return r.sources.Kept(copied(name))
}

// copied is the name by which a calendar's copy is known.
func copied(name string) string {
	if isAddress(name) {
		return encrypted(name)
	}
	return name
}

// instead notes that something else was taken than the season file names.
func (r *reader) instead(w Fault) {
	w.Warning = true
	r.faults = append(r.faults, w)
	r.standIns = append(r.standIns, w)
}

// happenings reads a calendar for the days of the season and the days around
// it. Its faults stand in the season file when there is no such file, and in
// the file itself otherwise.
func (r *reader) happenings(src *source, s *model.Season) ([]calendar.Occurrence, bool) {
	before := len(r.faults)
	name := src.file.written()
	o := calendar.Options{Zone: src.reader(), Instead: src.instead,
		From: (s.From - 1).Time().AddDate(0, 0, -1), To: (s.To + 2).Time().AddDate(0, 0, 1)}
	hopeless := false
	read := func(b []byte) (found []calendar.Occurrence, good bool) {
		found, faults := calendar.Read(bytes.NewReader(b), o)
		for _, w := range faults {
			hopeless = hopeless || w.Whole
			r.faults = append(r.faults, Fault{File: src.path, Line: w.Line, Value: w.Value, Text: w.Text, Advice: w.Advice})
		}
		return found, len(faults) == 0
	}
	path, b, ok := r.fetch(src.file, loadCalendar)
	src.path = path
	if ok {
		if found, good := read(b); good {
			r.calendars[copied(name)] = b
			return found, true
		}
	}
	if ok && src.faulty == "leave out" {
		o.Without = true
		if found, faults := calendar.Read(bytes.NewReader(b), o); found != nil {
			r.faults = r.faults[:before]
			for _, w := range faults {
				r.instead(Fault{File: path, Line: w.Line, Value: w.Value, Text: w.Text + "; left out"})
			}
			return found, true
		}
	}
	if src.faulty != "copy" && !r.sources.Standing {
		if src.faulty == "" && ok {
			r.advise(name, hopeless)
		}
		return nil, false
	}
	why, wrong := r.faults[before:], len(r.faults)
	if len(why) == 0 {
		return nil, false
	}
	stand := Fault{File: why[0].File, Line: why[0].Line, Path: why[0].Path, Value: why[0].Value, Text: why[0].Text}
	if b, at, there := r.kept(name); there {
		if found, good := read(b); good {
			r.faults = r.faults[:before]
			if path == "" {
				src.path = r.beside(name)
			}
			r.others[name] = Named{src.path, b}
			stand.Text += fmt.Sprintf("; the copy of %s stands in for it", at.Format("2006-01-02 15:04"))
			r.instead(stand)
			return found, true
		}
		r.faults = r.faults[:wrong]
	}
	if r.sources.Standing && src.spare {
		r.faults = r.faults[:before]
		stand.Text += "; it is passed over"
		r.instead(stand)
		return nil, true
	}
	return nil, false
}

// advise adds to the last fault of a calendar how to go on while it is there.
func (r *reader) advise(name string, hopeless bool) {
	var ways []string
	if !hopeless {
		ways = append(ways, "faulty: leave out}, which goes on without what is at fault")
	}
	if _, _, there := r.kept(name); there {
		ways = append(ways, "faulty: copy}, with the last copy that was sound")
	}
	if last := &r.faults[len(r.faults)-1]; last.Advice == "" && len(ways) > 0 {
		last.Advice = "{file: …, " + strings.Join(ways, "; or {file: …, ")
	}
}

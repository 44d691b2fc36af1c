package calendar

import (
	"strconv"
	"strings"
	"time"
)

// zone finds a zone by its TZID, the same one for the same name, and notes that
// a time is in it. Zones that the file describes may stand below the events that
// name them, so they are asked for when all is read (see settle).
func (f *file) zone(id string, wall time.Time) *zone {
	id = zoneName(id)
	z, ok := f.zones[id]
	if !ok {
		z = &zone{id: id, iana: time.UTC}
		f.zones[id] = z
	}
	if !z.named || wall.Before(z.first) {
		z.named, z.first = true, wall
	}
	return z
}

// zoneName makes one of the ways in which a name is written. In a VTIMEZONE it
// is a text, whose commas are escaped (RFC 5545, 3.8.3.1); in a parameter it
// is not (3.2.19), but some programs escape it there, too.
func zoneName(s string) string {
	s = line{value: strings.Trim(strings.TrimSpace(s), `"`)}.text()
	return strings.Join(strings.Fields(s), " ")
}

// settle finds out what the zones named in the file are.
func (f *file) settle() {
	for id, z := range f.zones {
		if loc := f.ianaZone(id); loc != nil {
			z.known, z.iana = true, loc
			continue
		}
		own := f.described[strings.ToLower(id)]
		if own != nil {
			changes, before, fault := f.describe(own, z.first, f.options.To.AddDate(1, 0, 0))
			if fault == nil {
				z.known, z.iana, z.changes, z.before = true, nil, changes, before
				continue
			}
			z.fault = fault
		}
		loc := f.ianaZone(windowsZones[id])
		if loc == nil && own != nil {
			loc = f.ianaZone(own.location)
		}
		if loc == nil {
			loc = f.behind(id)
		}
		if loc == nil {
			loc = fixed(id)
		}
		if loc == nil {
			loc = f.options.Instead
		}
		if loc != nil {
			z.known, z.iana = true, loc
		}
	}
}

// ianaZone finds a zone of the IANA database, however its letters are cased;
// nil where there is none of this name.
func (f *file) ianaZone(id string) *time.Location {
	const longest = 40 // letters of a name; the longest there is has 32
	id = strings.Trim(id, "/")
	if id == "" || len(id) > longest || strings.Count(id, "/") > 2 || id == "Local" || strings.ContainsFunc(id, foreignToZones) {
		return nil
	}
	for _, name := range []string{id, cased(id), strings.ToUpper(id)} {
		if !f.work(workLookup) {
			return nil // too much work is said by whoever expands rules
		}
		if loc, err := time.LoadLocation(name); err == nil {
			return loc
		}
	}
	return nil
}

func foreignToZones(r rune) bool {
	return !('a' <= r && r <= 'z' || 'A' <= r && r <= 'Z' || '0' <= r && r <= '9' || strings.ContainsRune("_-+/", r))
}

// cased writes a name as the database does, as far as that follows a rule.
func cased(id string) string {
	b, word := []byte(strings.ToLower(id)), true
	for i, c := range b {
		if word && 'a' <= c && c <= 'z' {
			b[i] = c - 'a' + 'A'
		}
		word = c == '/' || c == '_' || c == '-'
	}
	return string(b)
}

// behind looks for the name of a zone behind the path that some programs put
// before it. Names have three words at most.
func (f *file) behind(id string) *time.Location {
	rest := strings.TrimRight(id, "/")
	at := len(rest)
	var tails []string
	for range 3 {
		if at = strings.LastIndexByte(rest[:at], '/'); at < 0 {
			break
		}
		tails = append(tails, rest[at+1:])
	}
	for i := len(tails) - 1; i >= 0; i-- {
		if loc := f.ianaZone(tails[i]); loc != nil {
			return loc
		}
	}
	return nil
}

// fixed reads a name that is an offset itself: UTC+01:00, GMT-0500.
func fixed(id string) *time.Location {
	rest, ok := strings.CutPrefix(id, "UTC")
	if !ok {
		rest, ok = strings.CutPrefix(id, "GMT")
	}
	if !ok {
		return nil
	}
	seconds, ok := parseOffset(strings.Replace(rest, ":", "", 1))
	if !ok {
		return nil
	}
	return time.FixedZone(id, seconds)
}

// parseOffset reads +0100, -053000 and their like (RFC 5545, 3.3.14).
func parseOffset(s string) (int, bool) {
	s = strings.TrimSpace(s)
	if len(s) != 5 && len(s) != 7 || s[0] != '+' && s[0] != '-' {
		return 0, false
	}
	n, err := strconv.Atoi(s[1:])
	if err != nil || n < 0 {
		return 0, false
	}
	if len(s) == 5 {
		n *= 100
	}
	h, m, sec := n/10000, n/100%100, n%100
	if h > 23 || m > 59 || sec > 59 {
		return 0, false
	}
	sum := 3600*h + 60*m + sec
	if s[0] == '-' {
		sum = -sum
	}
	return sum, true
}

// unknown is the fault of a zone that nobody knows, at an event that is in it.
func (z *zone) unknown(line int) *Fault {
	w := Fault{Line: line, Value: z.id, Text: "this event is in a time zone that is not in the IANA database, and that the calendar does not describe"}
	if z.fault != nil {
		w = *z.fault
	}
	w.Advice = "{file: …, time_zone: Europe/Oslo}: a zone that stands in for it"
	return &w
}

// WindowsZone gives the IANA name of the zone that Windows calls so, "" if there is none.
func WindowsZone(name string) string { return windowsZones[name] }

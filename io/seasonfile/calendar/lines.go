package calendar

import (
	"bufio"
	"bytes"
	"errors"
	"io"
	"strings"
)

// line is one content line, unfolded: NAME;PARAM=value:value.
type line struct {
	number int // of its first line in the file
	name   string
	params map[string]string // by upper-case name, the first value; nil where there are none
	value  string
}

const byteOrderMark = "\xef\xbb\xbf"

// readLines calls each with every content line, in order, until it gives
// false; whole tells that it did not. It keeps one line in memory. What is no
// content line is a fault, unless odd, which is told of it, takes it upon itself.
func readLines(in io.Reader, each func(line) bool, odd func(Fault) bool) (whole bool, fault *Fault) {
	limited := &io.LimitedReader{R: in, N: MostBytes + 1}
	r := bufio.NewReaderSize(limited, 1<<16)
	var buf []byte
	begun, number := 0, 0 // where the line in buf begins; the line last read
	flush := func() (bool, *Fault) {
		if begun == 0 {
			return true, nil
		}
		l, f := split(begun, strings.ToValidUTF8(string(buf), "\ufffd"))
		buf, begun = buf[:0], 0
		if f != nil {
			if odd(*f) {
				return true, nil
			}
			return false, f
		}
		return each(l), nil
	}
	for {
		raw, whole, err := physical(r)
		if limited.N <= 0 {
			return false, &Fault{Text: "is larger than 32 MiB, which no calendar of a player is"}
		}
		if err != nil && !errors.Is(err, io.EOF) {
			return false, &Fault{Text: "can't be read: " + err.Error()}
		}
		if len(raw) > 0 || whole {
			number++
			if number == 1 {
				raw = bytes.TrimPrefix(raw, []byte(byteOrderMark))
			}
			if i := bytes.IndexByte(raw, 0); i >= 0 {
				f := wrong(number, "", "is not an iCalendar file: it holds bytes that no text has")
				return false, &f
			}
			switch {
			case len(bytes.TrimSpace(raw)) == 0:
			case (raw[0] == ' ' || raw[0] == '\t') && begun > 0:
				buf = append(buf, raw[1:min(len(raw), 1+max(0, mostLine-len(buf)))]...)
			default:
				if more, f := flush(); f != nil || !more {
					return false, f
				}
				buf, begun = append(buf[:0], raw...), number
			}
		}
		if err != nil {
			return flush()
		}
	}
}

// physical reads one line of the file, of which it keeps mostLine bytes. Whole
// tells whether a line break ended it.
func physical(r *bufio.Reader) (raw []byte, whole bool, err error) {
	for {
		part, more, err := r.ReadLine()
		if err != nil {
			return raw, false, err
		}
		raw = append(raw, part[:min(len(part), max(0, mostLine-len(raw)))]...)
		if !more {
			return raw, true, nil
		}
	}
}

// split takes a content line apart. Parameter values may be quoted, and then
// hold any of the separators.
func split(number int, s string) (line, *Fault) {
	l := line{number: number}
	end := strings.IndexAny(s, ";:")
	if end < 0 {
		f := wrong(number, s, "is no line of iCalendar: it has no colon")
		if page := strings.ToLower(strings.TrimSpace(s)); number == 1 && (strings.HasPrefix(page, "<!doctype html") || strings.HasPrefix(page, "<html")) {
			f = wrong(number, s, "is a web page and no calendar; was a login needed where it came from?")
		}
		return l, &f
	}
	l.name = strings.ToUpper(strings.TrimSpace(s[:end]))
	rest := s[end:]
	for rest[0] == ';' {
		quoted, at := false, -1
		for i := 1; i < len(rest); i++ {
			if rest[i] == '"' {
				quoted = !quoted
			}
			if !quoted && (rest[i] == ';' || rest[i] == ':') {
				at = i
				break
			}
		}
		if at < 0 {
			f := wrong(number, s, "is no line of iCalendar: its value is missing")
			return l, &f
		}
		name, value, _ := strings.Cut(rest[1:at], "=")
		name = strings.ToUpper(strings.TrimSpace(name))
		if l.params == nil {
			l.params = map[string]string{}
		}
		if _, twice := l.params[name]; !twice {
			l.params[name] = strings.Trim(strings.TrimSpace(value), `"`)
		}
		rest = rest[at:]
	}
	l.value = rest[1:]
	return l, nil
}

// text undoes the escapes of RFC 5545, 3.3.11.
func (l line) text() string {
	s := l.value[:min(len(l.value), mostText)]
	if strings.IndexByte(s, '\\') >= 0 {
		s = strings.NewReplacer(`\\`, `\`, `\,`, ",", `\;`, ";", `\n`, "\n", `\N`, "\n").Replace(s)
	}
	return strings.ToValidUTF8(s, "")
}

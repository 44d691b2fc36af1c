package recordfile

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"reflect"
	"unicode/utf8"

	"primaprova/io/disk"
	"primaprova/model"
)

// mostEntries leaves numbers to go on with.
const mostEntries = 1 << 30

// Record is a record as it was read.
type Record struct {
	Path   string
	Events []model.Event // undone ones and undos included, in the order of the file
	Last   int           // the highest entry in use; 0: none
	Broken *Broken       // what a power cut left at the end; nil: nothing
	// Size is how much of the file was read; an append that finds another size
	// under its lock reads again.
	size int64
}

// Broken is the end of a record that has no effect.
type Broken struct {
	From, To int // lines
	Text     string
}

// String says where it is and what becomes of it.
func (b *Broken) String() string {
	where := fmt.Sprintf("line %d", b.From)
	if b.To > b.From {
		where = fmt.Sprintf("lines %d to %d", b.From, b.To)
	}
	return fmt.Sprintf("%s: %s; set aside, everything before counts", where, b.Text)
}

// Read reads a record; where there is no file it is empty. It is strict: an
// unknown key, a value of the wrong kind or an event that means nothing is a
// fault, and the error is an Error that holds all of them. Only a broken end
// is forgiven: see Record.Broken.
func Read(path string) (*Record, error) {
	data, err := disk.Read(path, "record")
	if errors.Is(err, fs.ErrNotExist) {
		return &Record{Path: path}, nil
	}
	if err != nil {
		return nil, err
	}
	return decode(path, data)
}

// reading is one line with what reading it gave.
type reading struct {
	line   line
	syntax bool
	err    error
	aside  bool
}

func decode(path string, data []byte) (*Record, error) {
	r := &Record{Path: path, size: int64(len(data))}
	var lines []reading
	for rest := data; len(rest) > 0; {
		text, after, _ := bytes.Cut(rest, []byte{'\n'})
		rest = after
		n := reading{}
		if !utf8.Valid(text) {
			n.syntax, n.err = true, errors.New("is not UTF-8 text")
		} else {
			n.line, n.syntax, n.err = parse(text)
		}
		lines = append(lines, n)
	}
	for i := range lines {
		if l := &lines[i].line; lines[i].err == nil && l.Kind == setAside && l.To <= i {
			for k := l.From - 1; k >= 0 && k < l.To; k++ {
				lines[k].aside = true
			}
		}
	}
	good := r.breakOff(lines)
	err := r.take(good)
	for i := range lines[len(good):] {
		r.used(&lines[len(good)+i])
	}
	return r, err
}

// used notes an entry's number where the entry itself has no effect: it is
// never given out twice.
func (r *Record) used(n *reading) {
	if n.err == nil && n.line.Entry <= mostEntries {
		r.Last = max(r.Last, n.line.Entry)
	}
}

// breakOff takes off the end what a power cut left: a last line that is no
// JSON, and before it the lines of an entry that does not end.
func (r *Record) breakOff(lines []reading) []reading {
	n := len(lines)
	text := ""
	if n > 0 && lines[n-1].syntax && !lines[n-1].aside {
		text = "the last line " + lines[n-1].err.Error()
		n--
	}
	for n > 0 && lines[n-1].err == nil && lines[n-1].line.More && !lines[n-1].aside {
		if text == "" {
			text = "the last entry does not end"
		}
		n--
	}
	if n < len(lines) {
		r.Broken = &Broken{n + 1, len(lines), text}
	}
	return lines[:n]
}

// take reads the events off the lines.
func (r *Record) take(lines []reading) error {
	var faults Error
	say := func(i int, text string) { faults = append(faults, Fault{File: r.Path, Line: i + 1, Text: text}) }
	headed, open := false, 0
	first := map[string]int{} // id -> the entry that has it first: one that comes in again has no effect
	for i := range lines {
		n := &lines[i]
		l := &n.line
		switch {
		case n.aside:
			open = 0
			r.used(n)
			continue
		case n.err != nil:
			say(i, n.err.Error())
			continue
		case l.Format != "":
			if !reflect.DeepEqual(*l, line{Format: l.Format}) || headed {
				say(i, "format: is said once, alone, in the first line")
			} else if l.Format != Format {
				say(i, fmt.Sprintf("format: %q: this program reads %s; use the version that wrote the file", l.Format, Format))
				return faults
			}
			headed = true
			continue
		case !headed:
			say(i, fmt.Sprintf(`the first line is not {"format":%q}`, Format))
			headed = true
		}
		for _, text := range l.check() {
			say(i, text)
		}
		if open != 0 && l.Entry != open {
			say(i, fmt.Sprintf("entry: %d: entry %d has not ended", l.Entry, open))
		} else if open == 0 && l.Entry <= r.Last {
			say(i, fmt.Sprintf("entry: %d: is not above %d, the entry before", l.Entry, r.Last))
		}
		r.Last, open = max(r.Last, l.Entry), 0
		if l.More {
			open = l.Entry
		}
		if l.Kind == setAside {
			continue
		}
		if l.ID != "" && first[l.ID] == 0 {
			first[l.ID] = l.Entry
		}
		if l.ID == "" || first[l.ID] == l.Entry {
			r.Events = append(r.Events, l.event())
		}
	}
	if len(faults) > 0 {
		return faults
	}
	return nil
}

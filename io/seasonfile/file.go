package seasonfile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"

	"primaprova/io/seasonfile/calendar"
	"primaprova/model"
)

// MostBytes is the largest file that is read: a season of a hundred
// programmes takes less than a tenth of it.
const MostBytes = 1 << 20

const byteOrderMark = "\ufeff"

// File is a season with what is known of the file it came from.
type File struct {
	Path     string // as given to Read
	SHA256   string // of the file and those it names, in hexadecimal; see sum
	Season   *model.Season
	Places   map[string]Place // by path, for example programmes[0].parts[1].arrives
	Warnings []Fault          // what is odd but does not stand in the way
	Source   []byte           // the file as it was read
	Others   map[string]Named // the files it names, by their names in it

	Calendars map[string][]byte // other people's, that could be used as they are, by their names in it, addresses as https
	StandIns  []Fault           // what was taken in place of others that could not; among Warnings, too
	sources   Sources
	root      *yaml.Node // the file's table
}

// Read reads a season file and the files it names. The error, when the input
// is wrong, is an Errors that holds every fault.
func Read(path string) (*File, error) { return ReadFrom(path, Sources{}) }

// ReadFrom is Read with calendars from elsewhere.
func ReadFrom(path string, s Sources) (*File, error) {
	b, err := load(path)
	if err != nil {
		return nil, err
	}
	return parse(path, b, nil, s)
}

// Parse reads a season file's bytes. Files that it names are looked for
// beside path.
func Parse(path string, b []byte) (*File, error) { return parse(path, b, nil, Sources{}) }

// parse is Parse with other files as they would be after an edit.
func parse(path string, b []byte, others map[string]Named, from Sources) (*File, error) {
	r := &reader{sources: from, calendars: map[string][]byte{}, others: map[string]Named{}, file: path, dir: filepath.Dir(path), text: newText(b), places: map[string]Place{}, spoiled: map[string]bool{}, above: map[string]bool{}}
	maps.Copy(r.others, others)
	season := r.document(b)
	if season != nil {
		r.validate(season)
	}
	for _, list := range [][]Fault{r.faults, r.standIns} {
		for i := range list {
			list[i].Called = called(list[i].Path, r.root, season)
		}
		inOrder(list, path)
	}
	var wrong Errors
	var warnings []Fault
	for _, f := range r.faults {
		if f.Warning {
			warnings = append(warnings, f)
		} else {
			wrong = append(wrong, f)
		}
	}
	if len(wrong) > 0 {
		return nil, wrong
	}
	return &File{Path: path, SHA256: sum(path, b, r.others), Season: season, Places: r.places,
		Warnings: warnings, Source: b, Others: r.others,
		Calendars: r.calendars, StandIns: r.standIns, sources: from, root: r.root}, nil
}

// Place gives where a path stands, or where the nearest thing around it does
// when it is not written in the file.
func (f *File) Place(path string) Place {
	p, ok := around(f.Places, path)
	if !ok {
		return Place{File: f.Path, Line: 1, Column: 1}
	}
	return p
}

// around looks for a path, then for what holds it.
func around(places map[string]Place, path string) (Place, bool) {
	for ok := true; ok; path, ok = holder(path) {
		if p, found := places[path]; found {
			return p, true
		}
	}
	return Place{}, false
}

// load reads a file whole and refuses what can't be a hand-written text.
func load(path string) ([]byte, error) {
	return loadUpTo(path, MostBytes, fmt.Sprintf("is larger than %d KiB, which is no hand-written file", MostBytes>>10),
		"primaprova new writes a season file to start from")
}

// loadCalendar reads a file whole that a program may have written.
func loadCalendar(path string) ([]byte, error) {
	return loadUpTo(path, calendar.MostBytes, fmt.Sprintf("is larger than %d MiB, which no calendar of a player is", calendar.MostBytes>>20), "")
}

func loadUpTo(path string, most int, large, fromNothing string) ([]byte, error) {
	wrong := func(text, advice string) error {
		return Errors{{File: path, Text: text, Advice: advice}}
	}
	info, err := os.Stat(path) // before it is opened: a pipe would wait for a writer that may never come
	switch {
	case err != nil:
		return nil, refused(path, err)
	case info.IsDir():
		return nil, wrong("is a directory, not a file", "name the file in it")
	case !info.Mode().IsRegular():
		return nil, wrong("is not a regular file", "")
	case info.Size() > int64(most):
		return nil, wrong(large, "")
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, refused(path, err)
	}
	defer f.Close()
	b := bytes.NewBuffer(make([]byte, 0, info.Size()+bytes.MinRead))
	// One byte more than the limit: it may have grown meanwhile.
	switch _, err := b.ReadFrom(io.LimitReader(f, int64(most)+1)); {
	case err != nil:
		return nil, refused(path, err)
	case b.Len() > most:
		return nil, wrong(large, "")
	case len(bytes.TrimSpace(b.Bytes())) == 0:
		return nil, wrong("is empty", fromNothing)
	}
	return b.Bytes(), nil
}

// refused says why the system does not give a file.
func refused(path string, err error) Errors {
	f := Fault{File: path, Text: err.Error()}
	var p *fs.PathError
	if errors.As(err, &p) {
		f.Text = p.Err.Error() // without the operation and the path, which the message has
	}
	switch {
	case errors.Is(err, fs.ErrNotExist):
		f.Text = "there is no such file"
	case errors.Is(err, fs.ErrPermission):
		f.Text, f.Advice = "may not be read: no permission", "chmod u+r "+path
	}
	return Errors{f}
}

// unreadable finds what no text file holds: bytes that are not UTF-8 and
// control characters.
func unreadable(file string, t *text) *Fault {
	for i := 0; i < len(t.bytes); {
		c, size := utf8.DecodeRune(t.bytes[i:])
		if c == utf8.RuneError && size == 1 {
			return &Fault{File: file, Line: t.line(i), Text: fmt.Sprintf("is not UTF-8 (byte %#02x)", t.bytes[i]),
				Advice: "save the file as UTF-8"}
		}
		if c < ' ' && c != '\t' && c != '\n' && c != '\r' || 0x7f <= c && c <= 0x9f && c != 0x85 {
			return &Fault{File: file, Line: t.line(i), Text: fmt.Sprintf("holds a control character (%#02x)", c)}
		}
		i += size
	}
	return nil
}

var yamlLine = regexp.MustCompile(`^(?:yaml: )?(?:line (\d+): )?(.*)$`)

// document parses the YAML and reads the season in it; nil when there is none
// to speak of.
func (r *reader) document(b []byte) *model.Season {
	if f := unreadable(r.file, r.text); f != nil {
		r.faults = append(r.faults, *f)
		return nil
	}
	dec := yaml.NewDecoder(bytes.NewReader(bytes.TrimPrefix(b, []byte(byteOrderMark))))
	var doc, second yaml.Node
	if err := dec.Decode(&doc); err != nil {
		r.syntax(err)
		return nil
	}
	if err := dec.Decode(&second); err == nil {
		r.faults = append(r.faults, Fault{File: r.file, Line: second.Line, Text: "a second document begins here; a season file is one document",
			Advice: "take out the line ---"})
	} else if !errors.Is(err, io.EOF) {
		r.syntax(err)
	}
	if doc.Kind != yaml.DocumentNode || len(doc.Content) != 1 {
		r.faults = append(r.faults, Fault{File: r.file, Line: 1, Text: "holds no season",
			Advice: "primaprova new writes a season file to start from"})
		return nil
	}
	r.root = doc.Content[0]
	r.plain(doc.Content[0])
	return r.season(field{node: doc.Content[0], place: r.text.place(r.file, doc.Content[0])})
}

// syntax reports what the YAML parser says.
func (r *reader) syntax(err error) {
	if errors.Is(err, io.EOF) {
		r.faults = append(r.faults, Fault{File: r.file, Text: "holds no season",
			Advice: "primaprova new writes a season file to start from"})
		return
	}
	m := yamlLine.FindStringSubmatch(strings.ReplaceAll(err.Error(), "\n", " "))
	line, _ := strconv.Atoi(m[1])
	r.faults = append(r.faults, Fault{File: r.file, Line: line, Text: "is not YAML: " + m[2],
		Advice: "look at this line and the one before it: indents are spaces, and a text with \": \" or \" #\" in it needs quotes"})
}

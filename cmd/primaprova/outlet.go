package main

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"unicode/utf16"

	"primaprova/io/disk"
	"primaprova/io/seasonfile"
	"primaprova/model"
)

// outlet is where exports go. It writes over nothing but earlier exports of the
// same kind, unless told so.
type outlet struct {
	a       *app
	f       *seasonfile.File
	replace bool
}

// kind is a form of export; ours tells whether a file is an earlier one of it.
type kind struct {
	name string
	ours func(old []byte) bool
}

// printedBy stands in a PDF that we made: texts there are in UTF-16 (ISO
// 32000-1, 7.9.2.2).
var printedBy = func() []byte {
	var b bytes.Buffer
	for _, c := range utf16.Encode([]rune("primaprova")) {
		b.Write([]byte{byte(c >> 8), byte(c)})
	}
	return b.Bytes()
}()

var (
	anICS      = kind{"a calendar", holds("\r\nPRODID:-//primaprova//")}
	aTable     = kind{"a table of sessions", begins("date,start,ends,minutes,stage,part,")}
	aPage      = kind{"a page", holds(`<meta name="generator" content="primaprova">`)}
	sheetsKind = kind{"sheets to print", func(b []byte) bool { return begins("%PDF-")(b) && bytes.Contains(b, printedBy) }}
	program    = kind{"a program", func(b []byte) bool { return begins("NAME ")(b) && bytes.Contains(b, []byte("wish[")) }}
	charts     = map[string]kind{
		".svg": {"a chart", holds("<desc>primaprova</desc>")},
		".png": {"a chart", func(b []byte) bool {
			return begins("\x89PNG")(b) && bytes.Contains(b[:min(len(b), 200)], []byte("Software\x00primaprova"))
		}},
		".pdf": {"a chart", sheetsKind.ours},
	}
)

func holds(mark string) func([]byte) bool {
	return func(b []byte) bool { return bytes.Contains(b[:min(len(b), 4<<10)], []byte(mark)) }
}

func begins(mark string) func([]byte) bool {
	return func(b []byte) bool { return bytes.HasPrefix(bytes.TrimPrefix(b, []byte("\ufeff")), []byte(mark)) }
}

func chartKind(path string) kind { return charts[strings.ToLower(filepath.Ext(path))] }

// may refuses to write over what is not an earlier export, and over the season's
// own files in any case. An empty path is no export.
func (o *outlet) may(k kind, path string) error {
	if path == "-" || path == "" {
		return nil
	}
	season := o.f.Path
	own := []string{season, planPath(season), earlierPath(season), recordPath(season), publishedPath(season), feedPath(season), o.a.set.file}
	for _, n := range o.f.Others {
		own = append(own, n.Path)
	}
	for _, name := range own {
		if name != "" && same(path, name) {
			return wrong("%s: is the season's own file; name another to export to", path)
		}
	}
	switch info, err := os.Stat(path); {
	case err != nil: // nothing there, or nothing that can be seen: writing will say so
		return nil
	case info.IsDir():
		return wrong("%s: is a directory; name a file in it", path)
	case !info.Mode().IsRegular():
		return wrong("%s: is not a regular file", path)
	case info.Size() == 0 || o.replace:
		return nil
	}
	b, err := os.ReadFile(path)
	if err != nil {
		return fileTrouble(err)
	}
	if !k.ours(b) {
		return wrong("%s: is there already, and is not %s that primaprova wrote; name another file, or say --replace to write over it", path, k.name)
	}
	return nil
}

// write puts an export in its file, whole or not at all; with an error from making it
// nothing is written.
func (o *outlet) write(k kind, path string, b []byte, err error) error {
	if err != nil {
		return err
	}
	if path == "-" {
		o.a.say.file(b)
		return nil
	}
	if err := o.may(k, path); err != nil {
		return err
	}
	if err := disk.Write(path, b, 0o644); err != nil {
		return cannotWrite(path, err)
	}
	o.a.say.aside("Wrote %s.", path)
	return nil
}

// same tells whether two names are of one file, also of one that is not there yet.
func same(a, b string) bool {
	i, errA := os.Stat(a)
	j, errB := os.Stat(b)
	if errA == nil && errB == nil {
		return os.SameFile(i, j)
	}
	if !errors.Is(errA, fs.ErrNotExist) || !errors.Is(errB, fs.ErrNotExist) {
		return false
	}
	return resolved(a) == resolved(b)
}

// resolved gives the whole name of a file in a folder that is there.
func resolved(path string) string {
	if abs, err := filepath.Abs(path); err == nil {
		path = abs
	}
	if dir, err := filepath.EvalSymlinks(filepath.Dir(path)); err == nil {
		path = filepath.Join(dir, filepath.Base(path))
	}
	return path
}

// mostDrawn is how many characters of a title are drawn. No sheet has room for as
// many, and to find that out takes long where a title goes on without end.
const mostDrawn = 200

// drawn gives a season with its titles cut to what is drawn at most.
func drawn(s *model.Season) *model.Season {
	out := *s
	out.Title = cut(s.Title)
	out.Programmes = slices.Clone(s.Programmes)
	for i := range out.Programmes {
		p := &out.Programmes[i]
		p.Title = cut(p.Title)
		p.Parts = slices.Clone(p.Parts)
		for j := range p.Parts {
			p.Parts[j].Work = cut(p.Parts[j].Work)
		}
	}
	return &out
}

func cut(s string) string {
	if r := []rune(s); len(r) > mostDrawn {
		return string(r[:mostDrawn-1]) + "…"
	}
	return s
}

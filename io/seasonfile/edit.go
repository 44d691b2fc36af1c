package seasonfile

import (
	"bytes"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"primaprova/model"
)

// An edit changes a few values of a season file and leaves every other byte
// alone: comments, layout, line ends, byte order mark. It gives a new File and
// writes nothing; Replace does. What an edit makes is read again as any season
// file is, and has to be the intended season and no other; where it is not,
// because the file is laid out in a way that the edit does not master or
// because the season would have faults, the edit is refused.

// SetArrival gives the season with another date on which a part arrives. The
// part is named programme/part.
func (f *File) SetArrival(part string, d model.Date) (*File, error) {
	at, err := f.find(part)
	if err != nil {
		return nil, err
	}
	if f.Season.Programmes[at.programme].Parts[at.part].Arrives == d {
		return f, nil
	}
	want := f.parts(at.programme)
	want.Programmes[at.programme].Parts[at.part].Arrives = d
	path := fmt.Sprintf("programmes[%d].parts[%d].arrives", at.programme, at.part)
	return f.set(path, d.String(), want, func(p Place) Errors {
		return Errors{{File: p.File, Line: p.Line, Value: part,
			Text: "this row can't be changed for this part alone, since another programme reads it too; nothing was written", Advice: "give the table a column programme"}}
	})
}

// AddPart gives the season with one more part in a programme, after those that
// the season file lists there. What equals the season's habits is not written.
// Passages without an id get one by their bars.
func (f *File) AddPart(programme string, p model.Part) (*File, error) {
	i, err := f.programme(programme)
	if err != nil {
		return nil, err
	}
	e := f.editor()
	owner := e.get(e.get(e.root, "programmes"), i)
	list := e.get(owner, "parts")
	want := f.parts(i)
	g := &want.Programmes[i]
	g.Parts = slices.Insert(g.Parts, length(list), named(p))
	return f.edited(e.add(owner, "parts", list, newPart(&p, &f.Season.Habits)), want)
}

// ReplacePart gives the season with another part in the place of one. Comments
// inside the old part go with it, and so do the pins of its sessions. The new
// part needs an id of its own: what the record says of the old one is not true
// of the new.
func (f *File) ReplacePart(part string, p model.Part) (*File, error) {
	f, err := f.withoutPins(func(session string) bool { return strings.HasPrefix(session, part+"/") })
	if err != nil {
		return nil, err
	}
	at, err := f.find(part)
	if err != nil {
		return nil, err
	}
	if p.ID == f.Season.Programmes[at.programme].Parts[at.part].ID {
		return nil, f.refusal(p.ID, "is the id of the part that goes", "another id for the part that comes")
	}
	e := f.editor()
	list := e.get(e.get(e.get(e.root, "programmes"), at.programme), "parts")
	if at.part >= length(list) {
		place := f.Place(fmt.Sprintf("programmes[%d].parts[%d]", at.programme, at.part))
		return nil, Errors{{File: place.File, Line: place.Line, Value: part, Text: "stands in a table, where a part can't be replaced", Advice: "take this line out there, then say --new without --instead-of"}}
	}
	want := f.parts(at.programme)
	want.Programmes[at.programme].Parts[at.part] = named(p)
	return f.edited(e.replace(list, at.part, newPart(&p, &f.Season.Habits)), want)
}

// located is where a part stands in the season.
type located struct{ programme, part int }

func (f *File) find(name string) (located, error) {
	var names []string
	for i := range f.Season.Programmes {
		p := &f.Season.Programmes[i]
		for j := range p.Parts {
			n := model.PartName(p.ID, p.Parts[j].ID)
			if n == name {
				return located{i, j}, nil
			}
			names = append(names, n)
		}
	}
	return located{}, f.refusal(name, "is no part of the season", Nearest(name, names))
}

// parts gives a copy of the season in which the parts of one programme may be
// changed.
func (f *File) parts(programme int) *model.Season {
	s := *f.Season
	s.Programmes = slices.Clone(s.Programmes)
	s.Programmes[programme].Parts = slices.Clone(s.Programmes[programme].Parts)
	return &s
}

// named gives a part as the reader will understand it.
func named(p model.Part) model.Part {
	if p.Work == "" {
		p.Work = p.ID
	}
	p.Passages = slices.Clone(p.Passages)
	nameByBars(p.Passages)
	return p
}

func (f *File) refusal(value, text, advice string) Errors {
	return Errors{{File: f.Path, Value: value, Text: text, Advice: advice}}
}

// change puts a text in the place of the bytes from..to.
type change struct {
	from, to int
	text     string
}

// scalar changes one value. Quotes around the old one stay.
func (f *File) scalar(path, to string) (change, error) {
	p, ok := f.Places[path]
	if !ok || p.File != f.Path || p.Offset < 0 || p.End < 0 {
		return change{}, f.layout(f.Place(path), path)
	}
	if old := f.Source[p.Offset:p.End]; len(old) > 1 && (old[0] == '"' || old[0] == '\'') {
		to = string(old[0]) + to + string(old[0])
	}
	return change{p.Offset, p.End, to}, nil
}

// set changes one value of the season file, or of a table that it names; there the
// edit is refused where the season is not as it is wanted.
func (f *File) set(path, to string, want *model.Season, refusal func(Place) Errors) (*File, error) {
	if p, ok := f.Places[path]; ok && p.File != f.Path {
		others, err := f.cell(p, to)
		if err != nil {
			return nil, err
		}
		return f.reread(f.Source, others, want, refusal(p))
	}
	c, err := f.scalar(path, to)
	if err != nil {
		return nil, err
	}
	return f.edited([]change{c}, want)
}

// layout refuses what the edit does not master.
func (f *File) layout(at Place, path string) Errors {
	return Errors{{File: f.Path, Line: at.Line, Column: at.Column, Path: path,
		Text: "is laid out in a way that can't be changed from here; nothing was written", Advice: "change this line in an editor"}}
}

// edited makes the changes and reads what comes of them.
func (f *File) edited(changes []change, want *model.Season) (*File, error) {
	if changes == nil {
		return nil, f.layout(Place{}, "")
	}
	slices.SortStableFunc(changes, func(a, b change) int { return a.from - b.from })
	var b bytes.Buffer
	done := 0
	for _, c := range changes {
		if c.from < done || c.to < c.from {
			return nil, f.layout(Place{}, "")
		}
		b.Write(f.Source[done:c.from])
		b.WriteString(c.text)
		done = c.to
	}
	b.Write(f.Source[done:])
	line := 1 + bytes.Count(f.Source[:changes[0].from], []byte("\n"))
	return f.reread(b.Bytes(), f.Others, want, f.layout(Place{Line: line}, ""))
}

// reread reads what an edit made, and refuses it where it is not what was
// wanted.
func (f *File) reread(source []byte, others map[string]Named, want *model.Season, refusal Errors) (*File, error) {
	out, err := parse(f.Path, source, others, f.sources)
	var wrong Errors
	if errors.As(err, &wrong) {
		// The season is read before it is written: its lines are those it would have.
		return nil, append(Errors{{File: f.Path, Text: "the season would have faults, so nothing was written:"}}, wrong...)
	}
	if err != nil {
		return nil, err
	}
	if !alike(out.Season, want) {
		return nil, refusal
	}
	return out, nil
}

// alike tells whether two seasons are equal; lists that are absent and empty
// ones mean the same where an edit may empty or begin them.
func alike(a, b *model.Season) bool {
	x, y := *a, *b
	if len(x.Pins) == 0 && len(y.Pins) == 0 {
		x.Pins, y.Pins = nil, nil
	}
	for _, s := range []*model.Season{&x, &y} {
		s.Programmes = slices.Clone(s.Programmes)
		for i := range s.Programmes {
			p := &s.Programmes[i]
			p.Parts = slices.Clone(p.Parts)
			for j := range p.Parts {
				q := &p.Parts[j]
				q.Passages = append([]model.Passage(nil), q.Passages...)
				for k := range q.Passages {
					q.Passages[k].Visits = append([]model.Minutes(nil), q.Passages[k].Visits...)
				}
			}
		}
	}
	return reflect.DeepEqual(&x, &y)
}

package seasonfile

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"primaprova/model"
)

// Edits that let more fit: caps of some days, rest days that are none after
// all, passages that go or may be visited day by day, an estimate.

// SetCaps gives the season with caps of their own for some dates, in order.
func (f *File) SetCaps(dates []model.Date, caps []model.Minutes) (*File, error) {
	e := f.editor()
	want := *f.Season
	want.Limits.Playing.Dates = slices.Clone(want.Limits.Playing.Dates)
	var fresh []pair
	var changes []change
	for i, d := range dates {
		on := model.Range{From: d, To: d}
		if at := slices.IndexFunc(want.Limits.Playing.Dates, func(x model.Dated[model.Minutes]) bool { return x.Range == on }); at >= 0 {
			c, err := f.scalar("limits.playing."+on.String(), caps[i].String())
			if err != nil {
				return nil, err
			}
			want.Limits.Playing.Dates[at].Value = caps[i]
			changes = append(changes, c)
			continue
		}
		fresh = append(fresh, pair{d.String(), caps[i].String()})
		want.Limits.Playing.Dates = append(want.Limits.Playing.Dates, model.Dated[model.Minutes]{Range: on, Value: caps[i]})
	}
	if len(fresh) == 0 {
		return f.edited(changes, &want)
	}
	limits := e.get(e.root, "limits")
	playing := e.get(limits, "playing")
	alone := braces(append([]pair{{everyDay, f.Season.Limits.Playing.Every.String()}}, fresh...))
	switch {
	case limits == nil:
		changes = append(changes, e.addKeys(e.root, pair{"limits", "{playing: " + alone + "}"})...)
	case playing == nil:
		changes = append(changes, e.addKeys(limits, pair{"playing", alone})...)
	case playing.Kind == yaml.ScalarNode:
		from, to := e.start(playing), e.end(playing)
		changes = append(changes, change{from, to, braces(append([]pair{{everyDay, string(f.Source[from:to])}}, fresh...))})
	case playing.Kind == yaml.MappingNode:
		changes = append(changes, e.addKeys(playing, fresh...)...)
	default:
		return nil, f.layout(f.Place("limits.playing"), "limits.playing")
	}
	return f.edited(changes, &want)
}

// PlayOn gives the season with one rest day that is none after all.
func (f *File) PlayOn(d model.Date) (*File, error) {
	e := f.editor()
	want := *f.Season
	want.Limits.Played = append(slices.Clone(want.Limits.Played), model.Range{From: d, To: d})
	limits := e.get(e.root, "limits")
	if limits == nil {
		return f.edited(e.addKeys(e.root, pair{"limits", "{played: [" + d.String() + "]}"}), &want)
	}
	return f.edited(e.add(limits, "played", e.get(limits, "played"), entryText{flow: d.String()}), &want)
}

// passageAt finds a passage, named programme/part/passage.
func (f *File) passageAt(name string) (at located, k int, err error) {
	part, id := name[:max(0, strings.LastIndexByte(name, '/'))], name[strings.LastIndexByte(name, '/')+1:]
	if at, err = f.find(part); err != nil {
		return at, 0, err
	}
	k = slices.IndexFunc(f.Season.Programmes[at.programme].Parts[at.part].Passages, func(q model.Passage) bool { return q.ID == id })
	if k < 0 {
		return at, 0, f.refusal(name, "is no passage of the season", "")
	}
	return at, k, nil
}

// LeavePassages gives the season without some passages, named
// programme/part/passage, and without the pins of their visits.
func (f *File) LeavePassages(names []string) (*File, error) {
	for _, name := range names {
		var err error
		if f, err = f.withoutPins(func(session string) bool { return strings.HasPrefix(session, name+"/") }); err != nil {
			return nil, err
		}
		at, k, err := f.passageAt(name)
		if err != nil {
			return nil, err
		}
		e, owner, err := f.partNode(at)
		if err != nil {
			return nil, err
		}
		if k >= length(e.get(owner, "passages")) {
			return nil, f.layout(f.Place(fmt.Sprintf("programmes[%d].parts[%d]", at.programme, at.part)), "passages")
		}
		want := f.parts(at.programme)
		q := &want.Programmes[at.programme].Parts[at.part]
		q.Passages = slices.Delete(slices.Clone(q.Passages), k, k+1)
		if f, err = f.edited(e.remove(owner, "passages", k), want); err != nil {
			return nil, err
		}
	}
	return f, nil
}

// SetDaily gives the season with some passages whose visits may follow each
// other day by day.
func (f *File) SetDaily(names []string) (*File, error) {
	return f.eachPassage(names, "daily", "yes", func(q *model.Passage) { q.Daily = true })
}

// SetVisits gives the season with a recipe of its own for each of some passages: the
// minutes of its visits.
func (f *File) SetVisits(recipes map[string][]model.Minutes) (*File, error) {
	for _, name := range slices.Sorted(maps.Keys(recipes)) {
		var err error
		if f, err = f.eachPassage([]string{name}, "visits", minutesText(recipes[name]), func(q *model.Passage) { q.Visits = recipes[name] }); err != nil {
			return nil, err
		}
	}
	return f, nil
}

// SetReadyDays gives the season with days of its own by which the ready-by date of a
// part lies before the date it is for.
func (f *File) SetReadyDays(part string, days int) (*File, error) {
	at, err := f.find(part)
	if err != nil {
		return nil, err
	}
	e, owner, err := f.partNode(at)
	if err != nil {
		return nil, err
	}
	want := f.parts(at.programme)
	want.Programmes[at.programme].Parts[at.part].ReadyDays = &days
	return f.give(e, owner, "ready_days", fmt.Sprint(days), want)
}

// eachPassage sets a key of some passages, one after the other.
func (f *File) eachPassage(names []string, key, to string, set func(*model.Passage)) (*File, error) {
	for _, name := range names {
		at, k, err := f.passageAt(name)
		if err != nil {
			return nil, err
		}
		e, owner, err := f.partNode(at)
		if err != nil {
			return nil, err
		}
		want := f.parts(at.programme)
		q := &want.Programmes[at.programme].Parts[at.part]
		q.Passages = slices.Clone(q.Passages)
		set(&q.Passages[k])
		node := e.get(e.get(owner, "passages"), k)
		path := fmt.Sprintf("programmes[%d].parts[%d].passages[%d]", at.programme, at.part, k)
		if node == nil || node.Kind != yaml.MappingNode {
			return nil, f.layout(f.Place(path), path)
		}
		if f, err = f.give(e, node, key, to, want); err != nil {
			return nil, err
		}
	}
	return f, nil
}

// give sets a key of a table in the season file.
func (f *File) give(e *editor, table *yaml.Node, key, to string, want *model.Season) (*File, error) {
	if n := e.get(table, key); n != nil {
		return f.edited([]change{{e.start(n), e.end(n), to}}, want)
	}
	return f.edited(e.addKeys(table, pair{key, to}), want)
}

// SetEstimate gives the season with an estimate in the place of all marked
// passages of a part, or of the estimate it has, and without the pins of their
// visits.
func (f *File) SetEstimate(part string, m model.Minutes) (*File, error) {
	at, err := f.find(part)
	if err != nil {
		return nil, err
	}
	if f, err = f.withoutPins(func(s string) bool { return strings.HasPrefix(s, part+"/") && strings.Count(s, "/") > 2 }); err != nil {
		return nil, err
	}
	e, owner, err := f.partNode(at)
	if err != nil {
		return nil, err
	}
	want := f.parts(at.programme)
	q := &want.Programmes[at.programme].Parts[at.part]
	if path := fmt.Sprintf("programmes[%d].parts[%d].estimate", at.programme, at.part); q.Estimate > 0 && len(q.Passages) == 0 {
		q.Estimate = m
		return f.set(path, m.String(), want, func(p Place) Errors { return f.layout(p, path) })
	}
	k := e.key(owner, "passages")
	if k < 0 {
		return nil, f.layout(f.Place(fmt.Sprintf("programmes[%d].parts[%d]", at.programme, at.part)), "passages")
	}
	q.Passages, q.Estimate = nil, m
	return f.edited([]change{{e.start(owner.Content[k]), e.end(owner.Content[k+1]), "estimate: " + m.String()}}, want)
}

// partNode finds the table of a part; one that stands in another file has none.
func (f *File) partNode(at located) (*editor, *yaml.Node, error) {
	e := f.editor()
	n := e.get(e.get(e.get(e.get(e.root, "programmes"), at.programme), "parts"), at.part)
	if n == nil || n.Kind != yaml.MappingNode {
		place := f.Place(fmt.Sprintf("programmes[%d].parts[%d]", at.programme, at.part))
		return nil, nil, Errors{{File: place.File, Line: place.Line, Text: "stands in a table, whose passages are not changed from here", Advice: "change this line there"}}
	}
	return e, n, nil
}

// addKeys puts keys at the end of a table.
func (e *editor) addKeys(table *yaml.Node, pairs ...pair) []change {
	if table.Style&yaml.FlowStyle != 0 {
		text := lines(pairs, " ", ",")
		if len(table.Content) == 0 {
			shut := e.end(table) - 1
			return []change{{shut, shut, text}}
		}
		at := e.end(table.Content[len(table.Content)-1])
		return []change{{at, at, ", " + text}}
	}
	indent := strings.Repeat(" ", table.Column-1)
	return e.after(table, table.Column, func(newline string) string {
		return indent + lines(pairs, indent, newline)
	})
}

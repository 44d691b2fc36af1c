package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"primaprova/io/seasonfile"
	"primaprova/model"
)

// addPart adds a part: PROGRAMME WORK.
func (a *app) addPart(n *addition, f *seasonfile.File, args []string) (*seasonfile.File, error) {
	if len(args) != 2 {
		return nil, wrong("add part: name its programme, and its work in quotes").then("add --help")
	}
	programme, err := programmeNamed(f.Season, args[0])
	if err != nil {
		return nil, err
	}
	arrives := f.Season.From
	if k := len(programme.Parts); k > 0 {
		arrives = programme.Parts[k-1].Arrives
	}
	if n.arrives != "" {
		if arrives, err = a.saidDay(n.arrives, a.today(f.Season)); err != nil {
			return nil, wrong("--arrives: %v", err)
		}
	}
	m := news{work: args[1], estimate: *n.lengths["estimate"], listening: *n.lengths["listening"], read: *n.lengths["read-through"],
		recordings: *n.lengths["recordings"], passages: n.passages}
	p, err := m.made(f.Season, arrives)
	if err != nil {
		return nil, err
	}
	p.ID = cmp.Or(n.id, f.NewID(args[1]))
	return f.AddPart(programme.ID, *p)
}

// addServices adds services: PROGRAMME KIND, then dates with their times.
func (a *app) addServices(n *addition, f *seasonfile.File, args []string) (*seasonfile.File, error) {
	if len(args) < 3 {
		return nil, wrong("add service: name its programme, what it is, and when").then("add --help")
	}
	programme, err := programmeNamed(f.Season, args[0])
	if err != nil {
		return nil, err
	}
	kind, err := seasonfile.ServiceKind(args[1])
	if err != nil {
		return nil, wrong("add service: %q %v", args[1], err).then("add --help")
	}
	v := f.LastService(programme.ID, kind)
	for _, x := range []struct {
		flag, text string
		to         *model.Minutes
	}{{"lasts", n.lasts, &v.Lasts}, {"travel", n.travel, &v.Travel}} {
		if x.text == "" {
			continue
		}
		if *x.to, err = model.ParseMinutes(x.text); err != nil {
			return nil, wrong("--%s: %q is not a length like 150 min or 2 h", x.flag, x.text)
		}
	}
	if v.Lasts == 0 {
		return nil, wrong("add service: how long? Add --lasts MINUTES")
	}
	if n.playing != "" {
		if _, err := fmt.Sscanf(strings.TrimSuffix(n.playing, "%"), "%d", &v.Playing); err != nil {
			return nil, wrong("--playing: %q is not a share like 65 %%", n.playing)
		}
	}
	for _, w := range words(n.works) {
		part, err := partNamed(f.Season, w)
		if err != nil {
			return nil, err
		}
		v.Works = append(v.Works, part[strings.LastIndexByte(part, '/')+1:])
	}
	var all []model.Service
	for when := strings.Fields(strings.Join(args[2:], " ")); len(when) > 0; when = when[min(2, len(when)):] {
		if len(when) < 2 {
			return nil, wrong("add service: %q has no time: dates with their times, like 26.1.2027 10:00", when[0]).then("add --help")
		}
		var early error
		v.Date, err = a.saidDay(when[0], a.today(f.Season))
		if v.Start, early = model.SaidClock(when[1]); err != nil || early != nil {
			return nil, wrong("add service: %v", cmp.Or(err, early)).then("add --help")
		}
		all = append(all, v)
	}
	return f.AddServices(programme.ID, all)
}

// programmeNamed finds a programme by its id or its title.
func programmeNamed(s *model.Season, name string) (*model.Programme, error) {
	var ids []string
	for i := range s.Programmes {
		p := &s.Programmes[i]
		if p.ID == name || strings.EqualFold(p.Title, name) {
			return p, nil
		}
		ids = append(ids, p.ID)
	}
	if len(ids) == 0 {
		return nil, wrong("%q is no programme of the season, which has none", name).then("add --help")
	}
	return nil, wrong("%q is no programme of the season; it has %s", name, strings.Join(ids, ", ")).then("add --help")
}

func passagesOf(texts []string) ([]model.Passage, error) {
	var out []model.Passage
	for _, text := range texts {
		q, err := passageOf("--passage", text)
		if err != nil {
			return nil, err
		}
		out = append(out, q)
	}
	return out, nil
}

// addedWords says what a season has now that it did not have.
func addedWords(what string, was, is *model.Season) string {
	var out []string
	for i := range is.Programmes {
		p := &is.Programmes[i]
		old := slices.IndexFunc(was.Programmes, func(q model.Programme) bool { return q.ID == p.ID })
		if old < 0 {
			return "programme " + p.ID
		}
		q := &was.Programmes[old]
		if n := len(p.Services) - len(q.Services); n > 0 {
			out = append(out, several(n, "service", "services")+" of "+p.ID)
		}
		for j := range p.Parts {
			part := &p.Parts[j]
			old := slices.IndexFunc(q.Parts, func(o model.Part) bool { return o.ID == part.ID })
			switch {
			case old < 0:
				out = append(out, "part "+model.PartName(p.ID, part.ID))
			case len(part.Passages) > len(q.Parts[old].Passages):
				out = append(out, several(len(part.Passages)-len(q.Parts[old].Passages), "passage", "passages")+" of "+model.PartName(p.ID, part.ID))
			}
		}
	}
	return cmp.Or(strings.Join(out, ", "), what)
}

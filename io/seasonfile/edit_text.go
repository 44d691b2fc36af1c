package seasonfile

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"primaprova/model"
)

// pair is a key with its value, ready to be written.
type pair struct{ key, value string }

func braces(pairs []pair) string {
	var out []string
	for _, p := range pairs {
		out = append(out, p.key+": "+p.value)
	}
	return "{" + strings.Join(out, ", ") + "}"
}

func lines(pairs []pair, indent, newline string) string {
	var out []string
	for _, p := range pairs {
		out = append(out, p.key+": "+p.value)
	}
	return strings.Join(out, newline+indent)
}

// newPin is a pin to be written.
type newPin struct{ pin model.Pin }

func (p newPin) pairs() []pair {
	return []pair{{"session", plainText(p.pin.Session)}, {"date", p.pin.Date.String()}}
}

func (p newPin) flow() string                        { return braces(p.pairs()) }
func (p newPin) block(indent, newline string) string { return lines(p.pairs(), indent, newline) }
func (p newPin) long() bool                          { return false }

// newService is a service to be written.
type newService struct {
	service *model.Service
	habits  *model.Habits
}

func (v newService) flow() string {
	s, h := v.service, v.habits
	out := []pair{{s.Kind.String(), s.Date.String() + " " + s.Start.String()}, {"lasts", s.Lasts.String()}}
	if s.Playing != h.ServicePlaying {
		out = append(out, pair{"playing", fmt.Sprintf("%d %%", s.Playing)})
	}
	if s.Travel != h.ServiceTravel {
		out = append(out, pair{"travel", s.Travel.String()})
	}
	if len(s.Works) > 0 {
		out = append(out, pair{"works", "[" + strings.Join(s.Works, ", ") + "]"})
	}
	return braces(out)
}

func (v newService) block(_, _ string) string { return v.flow() }
func (v newService) long() bool               { return false }

// newProgramme is a programme to be written, with its services and parts.
type newProgramme struct {
	programme *model.Programme
	habits    *model.Habits
}

func (p newProgramme) flow() string {
	g := p.programme
	out := []pair{{"id", plainText(g.ID)}, {"title", plainText(g.Title)}}
	var services, parts []string
	for i := range g.Services {
		services = append(services, newService{&g.Services[i], p.habits}.flow())
	}
	for i := range g.Parts {
		parts = append(parts, newPart{&g.Parts[i], p.habits}.flow())
	}
	for _, l := range []struct {
		key  string
		list []string
	}{{"services", services}, {"parts", parts}} {
		if len(l.list) > 0 {
			out = append(out, pair{l.key, "[" + strings.Join(l.list, ", ") + "]"})
		}
	}
	return braces(out)
}

func (p newProgramme) block(indent, newline string) string {
	g := p.programme
	out := lines([]pair{{"id", plainText(g.ID)}, {"title", plainText(g.Title)}}, indent, newline)
	entry := newline + indent + "  - "
	for i := range g.Services {
		if i == 0 {
			out += newline + indent + "services:"
		}
		out += entry + newService{&g.Services[i], p.habits}.flow()
	}
	for i := range g.Parts {
		if i == 0 {
			out += newline + indent + "parts:"
		}
		if part := (newPart{&g.Parts[i], p.habits}); part.long() {
			out += entry + part.block(indent+"    ", newline)
		} else {
			out += entry + part.flow()
		}
	}
	return out
}

func (p newProgramme) long() bool { return true }

// programmesText writes programmes as the entries of a list.
func programmesText(all []model.Programme, h model.Habits) string {
	out := ""
	for i := range all {
		out += "\n  - " + newProgramme{&all[i], &h}.block("    ", "\n")
	}
	return out
}

// newPart is a part to be written. What the season's habits say anyway is left
// out, as a player would.
type newPart struct {
	part   *model.Part
	habits *model.Habits
}

func (p newPart) pairs() []pair {
	q, h := p.part, p.habits
	out := []pair{{"id", plainText(q.ID)}}
	add := func(when bool, key, value string) {
		if when {
			out = append(out, pair{key, value})
		}
	}
	add(q.Work != "" && q.Work != q.ID, "work", plainText(q.Work))
	add(true, "arrives", q.Arrives.String())
	add(q.Listening != h.Listening, "listening", q.Listening.String())
	add(q.ReadThrough != h.ReadThrough, "read_through", q.ReadThrough.String())
	add(q.Recordings != h.Recordings, "recordings", q.Recordings.String())
	add(q.Estimate != 0, "estimate", q.Estimate.String())
	return out
}

func (p newPart) flow() string {
	pairs := p.pairs()
	if len(p.part.Passages) > 0 {
		pairs = append(pairs, pair{"passages", "[" + strings.Join(p.passages(), ", ") + "]"})
	}
	return braces(pairs)
}

func (p newPart) block(indent, newline string) string {
	out := lines(p.pairs(), indent, newline)
	for i, q := range p.passages() {
		if i == 0 {
			out += newline + indent + "passages:"
		}
		out += newline + indent + "  - " + q
	}
	return out
}

func (p newPart) long() bool { return len(p.part.Passages) > 0 }

func (p newPart) passages() []string {
	var out []string
	for _, q := range p.part.Passages {
		var pairs []pair
		add := func(when bool, key, value string) {
			if when {
				pairs = append(pairs, pair{key, value})
			}
		}
		add(q.ID != "", "id", plainText(q.ID))
		add(true, "bars", plainText(q.Bars))
		add(q.Hard != 2, "hard", fmt.Sprint(q.Hard))
		add(q.Exposed, "exposed", "yes")
		add(q.Daily, "daily", "yes")
		add(q.Minutes != 0, "minutes", q.Minutes.String())
		var visits []string
		for _, m := range q.Visits {
			visits = append(visits, m.String())
		}
		add(len(visits) > 0, "visits", "["+strings.Join(visits, ", ")+"]")
		add(q.Due != 0, "due", q.Due.String())
		add(q.Found != 0, "found", q.Found.String())
		switch t := q.Tempo; {
		case t.Now != 0:
			add(true, "tempo", fmt.Sprintf("{now: %d, goal: %d}", t.Now, t.Goal))
		case t.Goal != 0:
			add(true, "tempo", fmt.Sprintf("{goal: %d}", t.Goal))
		}
		add(q.Strains != "", "strains", plainText(q.Strains))
		out = append(out, braces(pairs))
	}
	return out
}

// unquoted are the texts that mean themselves in YAML in any place: they begin
// with a letter or digit and hold nothing that could end or change them.
var unquoted = regexp.MustCompile(`^[\p{L}\p{N}]([\p{L}\p{N} .'’()/+–—-]*[\p{L}\p{N}.')/])?$`)

// nothing are the words that YAML takes for no value.
var nothing = []string{"null", "Null", "NULL"}

// plainText writes a text, in quotes where it needs them.
func plainText(s string) string {
	if unquoted.MatchString(s) && !slices.Contains(nothing, s) {
		return s
	}
	return strconv.Quote(s)
}

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

func braces(pairs []pair) string { return "{" + lines(pairs, " ", ",") + "}" }

func lines(pairs []pair, indent, newline string) string {
	var out []string
	for _, p := range pairs {
		out = append(out, p.key+": "+p.value)
	}
	return strings.Join(out, newline+indent)
}

// entries are a key with a list of entries.
type entries struct {
	key string
	all []entryText
}

// entryOf makes an entry of keys on one line, and of lists below them.
func entryOf(pairs []pair, lists ...entries) (out entryText) {
	lists = slices.DeleteFunc(lists, func(l entries) bool { return len(l.all) == 0 })
	whole := slices.Clone(pairs)
	for _, l := range lists {
		var texts []string
		for _, t := range l.all {
			texts = append(texts, t.flow)
		}
		whole = append(whole, pair{l.key, "[" + strings.Join(texts, ", ") + "]"})
	}
	return entryText{flow: braces(whole), long: len(lists) > 0, block: func(indent, newline string) string {
		text := lines(pairs, indent, newline)
		for _, l := range lists {
			text += newline + indent + l.key + ":"
			for _, t := range l.all {
				text += newline + indent + "  - " + t.written(false, indent+"    ", newline)
			}
		}
		return text
	}}
}

// newService is a service to be written, always on one line. What the season's habits
// say anyway is left out, as a player would.
func newService(s *model.Service, h *model.Habits) entryText {
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
	return entryText{flow: braces(out)}
}

// newProgramme is a programme to be written, with its services and parts.
func newProgramme(g *model.Programme, h *model.Habits) entryText {
	services, parts := entries{key: "services"}, entries{key: "parts"}
	for i := range g.Services {
		services.all = append(services.all, newService(&g.Services[i], h))
	}
	for i := range g.Parts {
		parts.all = append(parts.all, newPart(&g.Parts[i], h))
	}
	out := entryOf([]pair{{"id", plainText(g.ID)}, {"title", plainText(g.Title)}}, services, parts)
	out.long = true
	return out
}

// programmesText writes programmes as the entries of a list.
func programmesText(all []model.Programme, h model.Habits) string {
	out := ""
	for i := range all {
		out += "\n  - " + newProgramme(&all[i], &h).block("    ", "\n")
	}
	return out
}

// newPart is a part to be written, with its passages.
func newPart(q *model.Part, h *model.Habits) entryText {
	pairs := []pair{{"id", plainText(q.ID)}}
	add := func(when bool, key, value string) {
		if when {
			pairs = append(pairs, pair{key, value})
		}
	}
	add(q.Work != "" && q.Work != q.ID, "work", plainText(q.Work))
	add(true, "arrives", q.Arrives.String())
	add(q.Listening != h.Listening, "listening", q.Listening.String())
	add(q.ReadThrough != h.ReadThrough, "read_through", q.ReadThrough.String())
	add(q.Recordings != h.Recordings, "recordings", q.Recordings.String())
	add(q.Estimate != 0, "estimate", q.Estimate.String())
	if q.ReadyDays != nil {
		add(true, "ready_days", fmt.Sprint(*q.ReadyDays))
	}
	passages := entries{key: "passages"}
	for i := range q.Passages {
		passages.all = append(passages.all, newPassage(&q.Passages[i]))
	}
	return entryOf(pairs, passages)
}

// minutesText writes a list of minutes.
func minutesText(all []model.Minutes) string {
	var texts []string
	for _, m := range all {
		texts = append(texts, m.String())
	}
	return "[" + strings.Join(texts, ", ") + "]"
}

// newPassage is a passage to be written, always on one line.
func newPassage(q *model.Passage) entryText {
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
	add(len(q.Visits) > 0, "visits", minutesText(q.Visits))
	add(q.Due != 0, "due", q.Due.String())
	add(q.Found != 0, "found", q.Found.String())
	switch t := q.Tempo; {
	case t.Now != 0:
		add(true, "tempo", fmt.Sprintf("{now: %d, goal: %d}", t.Now, t.Goal))
	case t.Goal != 0:
		add(true, "tempo", fmt.Sprintf("{goal: %d}", t.Goal))
	}
	add(q.Strains != "", "strains", plainText(q.Strains))
	return entryText{flow: braces(pairs)}
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

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

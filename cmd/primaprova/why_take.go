package main

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"

	"primaprova/model"
	"primaprova/solver/conflict"
)

// mostInName is how many things an offer's name lists; of more it has the number, and
// a mark of which they are.
const mostInName = 3

// nameOf names an offer by what it is: its kind, and what it changes.
func nameOf(o *conflict.Offer) string {
	var what []string
	switch o.Kind {
	case soonerOffer:
		what = []string{fmt.Sprintf("%s=%d", o.Part, o.Days)}
	case conflict.EarlierOffer:
		what = []string{o.Part + "=" + o.Arrives.String()}
	case conflict.EstimateOffer:
		what = []string{fmt.Sprintf("%s=%d", o.Part, int(o.Minutes))}
	case conflict.MinutesOffer:
		for i, d := range o.Dates {
			what = append(what, fmt.Sprintf("%v=%d", d, int(o.Caps[i])))
		}
	case conflict.RestOffer:
		what = []string{o.Dates[0].String()}
	default:
		what = o.Passages
	}
	all := strings.Join(what, ",")
	if len(what) > mostInName {
		all = fmt.Sprintf("%d-%s", len(what), mark(all))
	}
	return string(o.Kind) + ":" + all
}

// mark is a short check on a text.
func mark(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:3])
}

// state marks the season, its plan and its record as they are.
func (y *asking) state() (string, error) {
	all := y.f.SHA256
	for _, path := range []string{planPath(y.f.Path), recordPath(y.f.Path)} {
		b, err := os.ReadFile(path)
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return "", fileTrouble(err)
		}
		all += fmt.Sprintf(" %d %s", len(b), b)
	}
	return mark(all), nil
}

// takes notes which offer is to be taken. One that carries a mark of the season as it
// was is refused where that has changed.
func (y *asking) takes(name string) error {
	name, at, marked := strings.Cut(name, "@")
	if y.take = name; name == "" {
		return wrong("--take: name an offer, as why lists them").then("why %s", y.questioned())
	}
	if !marked {
		return nil
	}
	now, err := y.state()
	if err != nil || at == now {
		return err
	}
	return wrong("--take %s: the season, its plan or its record has changed since that was offered", name).then("why %s", y.questioned())
}

// questioned gives the arguments that ask the same question again.
func (y *asking) questioned() string {
	if y.asked == "" {
		return quoted(y.f.Path)
	}
	return quoted(y.f.Path) + " " + quoted(y.asked)
}

// taken gives the offer to take, nil where it is not among those made so far.
func (y *asking) taken() *conflict.Offer {
	i := slices.IndexFunc(y.offers, func(o conflict.Offer) bool { return y.take != "" && nameOf(&o) == y.take })
	if i < 0 {
		return nil
	}
	return &y.offers[i]
}

// gone says that the offer to take is not made.
func (y *asking) gone() error {
	if len(y.offers) == 0 {
		return wrong("--take %s: nothing is offered", y.take).then("why %s", y.questioned())
	}
	var names []string
	for i := range y.offers {
		names = append(names, nameOf(&y.offers[i]))
	}
	return wrong("--take %s: is not offered; what is: %s", y.take, strings.Join(names, " ")).then("why %s", y.questioned())
}

// sayNames says by which names offers are taken, and which are not the player's to take.
func (y *asking) sayNames(offers []conflict.Offer, from int) {
	y.say.space()
	for i := range offers {
		o := &offers[i]
		if o.Kind == conflict.EarlierOffer {
			y.say.line("Offer %d is to ask for. When the date is promised: late %s %s --arrives %s", from+i+1, quoted(y.f.Path), quoted(o.Part), o.Arrives)
			continue
		}
		y.say.line("Offer %d is taken with --take %s", from+i+1, quoted(nameOf(o)))
	}
}

// changed gives what an offer changes in the wishes.
func changed(o *conflict.Offer) (by model.Measures) {
	for w := range by {
		by[w] = o.After[w] - o.Before[w]
	}
	by[model.Coverage] += float64(o.GivenUp) // what an offer gives up is left out too
	return by
}

// keepsMore puts offers in their order: first those that place all that was asked
// about, then by what they change in the wishes, as plans are judged by.
func keepsMore(a, b conflict.Offer) int {
	lacks := func(o *conflict.Offer) int { return min(1, len(o.Left)+len(o.Out)) }
	x, y := changed(&a), changed(&b)
	return cmp.Or(cmp.Compare(lacks(&a), lacks(&b)), slices.Compare(x[:], y[:]))
}

// hint gives the command that takes the best offer, if there is one to recommend: it is
// the player's own, asks for no higher cap and no rest day, and makes no wish worse
// before one that it betters.
func (y *asking) hint() {
	var best *conflict.Offer
	for i := range y.offers {
		o := &y.offers[i]
		switch o.Kind {
		case conflict.EarlierOffer, conflict.MinutesOffer, conflict.RestOffer:
			continue
		}
		if by := changed(o); by.Less(model.Measures{}) && (best == nil || by.Less(changed(best))) {
			best = o
		}
	}
	at, err := y.state()
	if best == nil || err != nil {
		return
	}
	y.say.next("why %s --take %s", y.questioned(), quoted(nameOf(best)+"@"+at))
}

// keeps tells whether a plan places of the sessions asked about, and of those placed
// before, what an offer's own plan places.
func (y *asking) keeps(p *model.Plan, o *conflict.Offer) bool {
	in := map[string]bool{}
	for i := range o.Plan.Sessions {
		in[o.Plan.Sessions[i].ID] = true
	}
	said := map[string]bool{}
	for _, id := range o.Promised {
		said[id] = true
	}
	for i := range y.plan.Sessions {
		said[y.plan.Sessions[i].ID] = true
	}
	return !slices.ContainsFunc(p.Unplaced, func(u model.Unplaced) bool { return said[u.ID] && in[u.ID] })
}

// outWords says what an offer leaves out once it is taken.
func (y *asking) outWords(o *conflict.Offer) string {
	s := ""
	if n := len(o.Out); n > 0 {
		s += fmt.Sprintf("; of what you ask about %s left out still", map[bool]string{true: "1 session is", false: fmt.Sprintf("%d sessions are", n)}[n == 1])
	}
	if n := len(o.Gone); n > 0 {
		s += fmt.Sprintf("; %s out", map[bool]string{true: "1 session that fits now goes", false: fmt.Sprintf("%d sessions that fit now go", n)}[n == 1])
	}
	return s
}

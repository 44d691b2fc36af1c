package model

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Tolerance says of each wish how much of it may be spent on the wishes after it, in
// percent of the least that it costs in any plan that keeps the wishes before it. The
// zero value is the strict order.
//
// The wishes are gone through in their order. Of each its least cost is looked for,
// and from then on a plan may cost up to its limit (Limit) in it: below that the wish
// counts only where the others tell no plans apart. Integer programs with several
// objectives in an order are commonly solved so. Of the last wish there is nothing to
// be spent on.
type Tolerance [wishes]int

// DefaultTolerance is the tolerance of whoever sets none. The figure is measured, with
// the season of testdata/seasons/demo: nearer to its bound a minute of body costs more
// than a day of spacing, further away less. The other wishes are strict.
var DefaultTolerance = Tolerance{Body: 2}

// Limit gives the most that a wish may cost where it costs at least so much.
func (t Tolerance) Limit(w Wish, least float64) float64 {
	return least * (1 + float64(t[w])/100)
}

// String writes the tolerances that are not 0 as ParseTolerance reads them.
func (t Tolerance) String() string {
	var out []string
	for _, w := range Wishes {
		if t[w] != 0 {
			out = append(out, fmt.Sprintf("%v %d", w, t[w]))
		}
	}
	if len(out) == 0 {
		return "none"
	}
	return strings.Join(out, ", ")
}

// mostTolerance is in percent. A wish of which more is given away is none.
const mostTolerance = 100

// ParseTolerance reads wishes with their percentages, like "body 2" or "closeness 5,
// body 2", or "none". Spacing is the last wish, so nothing can be spent of it.
func ParseTolerance(text string) (t Tolerance, err error) {
	if strings.TrimSpace(text) == "none" {
		return t, nil
	}
	for _, one := range strings.Split(text, ",") {
		words := strings.Fields(strings.Replace(one, "%", " ", 1))
		if len(words) != 2 {
			return Tolerance{}, errors.New("is not none, nor wishes with percentages like body 2")
		}
		w := Wish(slices.IndexFunc(Wishes[:Spacing], func(w Wish) bool { return w.String() == words[0] }))
		if w < 0 {
			return Tolerance{}, fmt.Errorf("has %q, which is none of coverage, ready-by, closeness, body", words[0])
		}
		n, err := strconv.Atoi(words[1])
		if err != nil || n < 0 || n > mostTolerance {
			return Tolerance{}, fmt.Errorf("has %q, which is no whole number from 0 to %d", words[1], mostTolerance)
		}
		t[w] = n
	}
	return t, nil
}

package instance

import "primaprova/model"

// Bound is what was proven of a wish: that every plan which costs no more than under
// in the wishes before it costs at least so much in it.
type Bound struct {
	Wish  model.Wish
	Least int64
	Under Score
}

// Bounds are all that was proven of a season.
type Bounds []Bound

// Least gives what is proven of a wish of plans that cost so much; 0 where nothing is.
func (c Bounds) Least(wish model.Wish, at Score) (least int64) {
	for i := range c {
		if c[i].Wish == wish && c[i].Under.Allows(at, wish) {
			least = max(least, c[i].Least)
		}
	}
	return least
}

// All gives what is proven of each wish of plans that cost so much.
func (c Bounds) All(at Score) (least Score) {
	for _, w := range model.Wishes {
		least[w] = c.Least(w, at)
	}
	return least
}

// Free gives what a plan may cost in each wish before it counts: a little above the
// least that is proven of plans that cost so much.
func (c Bounds) Free(t model.Tolerance, at Score) Score {
	least := c.All(at)
	for w := range least {
		least[w] = Tolerated(t, model.Wish(w), least[w])
	}
	least[model.Spacing] = 0 // of the last wish nothing is spent
	return least
}

// Tolerated is what a wish may cost before it counts where it costs so much at least.
func Tolerated(t model.Tolerance, wish model.Wish, least int64) int64 {
	return least + least*int64(t[wish])/100
}

// Better compares in the order of the wishes, where up to what is free a wish does
// not count; where that tells nothing apart, strictly.
func (a Score) Better(b, free Score) bool {
	x, y := a, b
	for w := range free {
		x[w], y[w] = max(x[w], free[w]), max(y[w], free[w])
	}
	if x != y {
		return x.Less(y)
	}
	return a.Less(b)
}

// AtMost gives the larger of two in each wish.
func (a Score) AtMost(b Score) Score {
	for w := range a {
		a[w] = max(a[w], b[w])
	}
	return a
}

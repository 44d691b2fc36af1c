package solver

import "primaprova/model"

// bound is what was proven of a wish: that every plan which costs no more than under
// in the wishes before it costs at least so much in it.
type bound struct {
	wish  model.Wish
	least int64
	under score
}

// bounds are all that was proven of a season.
type bounds []bound

// least gives what is proven of a wish of plans that cost so much; 0 where nothing is.
func (c bounds) least(wish model.Wish, at score) (least int64) {
	for i := range c {
		if c[i].wish == wish && c[i].under.allows(at, wish) {
			least = max(least, c[i].least)
		}
	}
	return least
}

// all gives what is proven of each wish of plans that cost so much.
func (c bounds) all(at score) (least score) {
	for _, w := range model.Wishes {
		least[w] = c.least(w, at)
	}
	return least
}

// free gives what a plan may cost in each wish before it counts: a little above the
// least that is proven of plans that cost so much.
func (c bounds) free(t model.Tolerance, at score) score {
	least := c.all(at)
	for w := range least {
		least[w] = spared(t, model.Wish(w), least[w])
	}
	least[model.Spacing] = 0 // of the last wish nothing is spent
	return least
}

// spared is what a wish may cost before it counts where it costs so much at least.
func spared(t model.Tolerance, wish model.Wish, least int64) int64 {
	return least + least*int64(t[wish])/100
}

// better compares in the order of the wishes, where up to what is free a wish does
// not count; where that tells nothing apart, strictly.
func (a score) better(b, free score) bool {
	x, y := a, b
	for w := range free {
		x[w], y[w] = max(x[w], free[w]), max(y[w], free[w])
	}
	if x != y {
		return x.less(y)
	}
	return a.less(b)
}

// atMost gives the larger of two in each wish.
func (a score) atMost(b score) score {
	for w := range a {
		a[w] = max(a[w], b[w])
	}
	return a
}

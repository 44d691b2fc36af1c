package model

// chain is a passage's visits that lie ahead, with their slots.
type chain struct {
	w     *PassageWork
	days  Range
	slots []Slot
}

// third gives the index of the third visit where the first round binds it.
func (c *chain) third() (int, bool) {
	k := 2 - len(c.w.Done)
	return k, k >= 0 && k < len(c.slots)
}

// opens tells whether the chain begins with a first visit of the first round.
func (c *chain) opens() bool { return c.w.Passage.Found == 0 && len(c.w.Done) == 0 && len(c.slots) > 0 }

// held gives the number of slots that have a day.
func (c *chain) held() int {
	n := 0
	for n < len(c.slots) && c.slots[n].First <= c.days.To {
		n++
	}
	return n
}

// least gives the least gap before visit k of the slots.
func (c *chain) least(k int) Date { return Date(c.w.Recipe[len(c.w.Done)+k].Least) }

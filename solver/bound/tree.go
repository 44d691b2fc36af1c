package bound

import (
	"cmp"
	"container/heap"
	"context"
	"math"
	"slices"

	"primaprova/solver/colgen"
	"primaprova/solver/instance"
	"primaprova/solver/run"
)

// tree is branch and bound over the frames of a master's parts, for which the
// master alone lets a part mix frames. A node holds each part to a box of frames;
// its bound is the master's over those boxes, found by columns as ever. The least
// bound of the open nodes is a bound of the whole, wherever the tree is stopped.
// A node in which every part has one frame needs no branching: what is then still
// in pieces are passages' schedules, which no box of frames makes whole.
type tree struct {
	by          *run.Params
	m           *colgen.Master
	aim         instance.Objective
	open        nodes
	pseudoCosts [][instance.Axes]pseudoCosts // by block
	nodes       int
	stuck       bool // the engine gave up on a node
}

// node is a box of frames for each part.
type node struct {
	bound      float64
	boxes      []instance.Box
	solved     bool // no column betters its linear program
	candidates []candidate
}

// candidate cuts a block's box after a day, by its read-through or by the end of its
// first round. share is the weight of the frames until that day.
type candidate struct {
	unit  int
	by    instance.Axis
	at    instance.Day
	share float64
}

// pseudoCosts are what the splits of a block along an axis brought to their two sides,
// for each share of weight moved, over so many splits.
type pseudoCosts struct {
	sum [2]float64
	n   int
}

// nearEnough is how far below what columns reach a node's bound may stay.
const nearEnough = 0.05

// newTree prices the root over a master, whose blocks it holds to boxes from now
// on.
func newTree(ctx context.Context, m *colgen.Master, a instance.Objective, by *run.Params) (*tree, error) {
	t := &tree{by: by, m: m, aim: a, pseudoCosts: make([][instance.Axes]pseudoCosts, len(m.Blocks)), nodes: 1}
	root := &node{bound: math.Inf(-1)}
	for i := range m.Blocks {
		root.boxes = append(root.boxes, m.P.Parts[m.Blocks[i].Part].AllFrames())
	}
	t.open = nodes{root}
	return t, t.price(ctx, root, by.RootRounds, instance.Inf)
}

// bound gives what no choice of frames is below.
func (t *tree) bound() float64 {
	least := instance.Inf
	for _, n := range t.open {
		least = min(least, n.bound)
	}
	return least
}

// closed tells whether the bound can rise no more: the node that it stands on
// has whole frames, or the engine gives up on it.
func (t *tree) closed() bool {
	return t.stuck || t.open[0].solved && len(t.open[0].candidates) == 0
}

// grow branches on the node of the least bound until the tree has so many nodes.
func (t *tree) grow(ctx context.Context, most int) error {
	for t.nodes < most && !t.closed() {
		if err := t.step(ctx); err != nil {
			t.stuck = true
			return err
		}
	}
	return nil
}

// step prices the node of the least bound to its end, or branches on it.
func (t *tree) step(ctx context.Context) error {
	n := t.open[0]
	if !n.solved {
		next := instance.Inf // where another node is the least
		for _, k := range t.open[1:min(3, len(t.open))] {
			next = min(next, k.bound)
		}
		err := t.price(ctx, n, t.by.NodeRounds, next+nearEnough)
		heap.Fix(&t.open, 0)
		return err
	}
	children, err := t.branch(ctx, n)
	if err != nil {
		return err
	}
	t.open[0] = children[0]
	heap.Fix(&t.open, 0)
	heap.Push(&t.open, children[1])
	t.nodes += 2
	return nil
}

// price raises a node's bound over so many rounds, or until it passes stop.
func (t *tree) price(ctx context.Context, n *node, rounds int, stop float64) error {
	m := t.m
	for i := range m.Blocks {
		m.Blocks[i].Box = &n.boxes[i]
	}
	if err := m.Minimise(t.aim); err != nil {
		return err
	}
	m.Bound = math.Inf(-1) // others' use of the days is credited: costs may be below 0
	err := m.Price(ctx, rounds, func(added int) bool {
		n.bound = max(n.bound, m.Bound)
		n.solved = added == 0 || m.Value-m.Bound <= nearEnough
		return n.solved || n.bound > stop
	})
	if err != nil {
		return err
	}
	n.candidates = t.candidates()
	return nil
}

// candidates gives for each part that mixes frames in the last run where its box may
// be cut: where the lighter side weighs most.
func (t *tree) candidates() []candidate {
	var out []candidate
	for i := range t.m.Blocks {
		mixed := slices.DeleteFunc(t.m.Frames(i), func(f colgen.WeighedFrame) bool { return f.Read == instance.None })
		for by := range instance.Axes {
			slices.SortStableFunc(mixed, func(a, b colgen.WeighedFrame) int { return cmp.Compare(a.Day(by), b.Day(by)) })
			s, sum := candidate{unit: i, by: by}, 0.0
			for k := 0; k+1 < len(mixed); k++ {
				sum += mixed[k].Weight
				if a, b := mixed[k].Day(by), mixed[k+1].Day(by); a < b && min(sum, 1-sum) > max(1e-3, min(s.share, 1-s.share)) {
					s.at, s.share = a, sum
				}
			}
			if s.share > 0 {
				out = append(out, s)
			}
		}
	}
	return out
}

// promise says how much a split is likely to raise the lower of its two sides.
// Before any was tried, a read-through is taken to matter more than the end of a
// first round, and a part the more the more passages it has.
func (t *tree) promise(s candidate) float64 {
	g := &t.pseudoCosts[s.unit][s.by]
	if g.n == 0 {
		u := &t.m.Blocks[s.unit]
		return min(s.share, 1-s.share) * float64(u.Last-u.First) * [instance.Axes]float64{0.3, 0.1}[s.by]
	}
	each := float64(g.n)
	return min(g.sum[0]/each*(1-s.share), g.sum[1]/each*s.share)
}

// branch gives the two children of a node by the split that raises the lower one
// most, as far as trying shows.
func (t *tree) branch(ctx context.Context, n *node) (best [2]*node, err error) {
	most := math.Inf(-1)
	slices.SortStableFunc(n.candidates, func(a, b candidate) int { return cmp.Compare(t.promise(b), t.promise(a)) })
	for tried, s := range n.candidates {
		g := &t.pseudoCosts[s.unit][s.by]
		if best[0] != nil && (tried >= t.by.TryMost || g.n >= t.by.TryReliable && t.promise(s) < most) {
			continue
		}
		children := n.cut(s)
		var gain [2]float64
		for side, c := range children {
			if err := t.price(ctx, c, t.by.TryRounds, instance.Inf); err != nil {
				return best, err
			}
			reached := t.m.Value
			if !c.solved {
				reached = (reached + c.bound) / 2 // more rounds would bring the two together
			}
			gain[side] = max(0, reached-n.bound)
		}
		g.sum[0] += gain[0] / max(0.01, 1-s.share)
		g.sum[1] += gain[1] / max(0.01, s.share)
		g.n++
		if worth := min(gain[0], gain[1]) + 0.1*max(gain[0], gain[1]); worth > most {
			best, most = children, worth
		}
	}
	return best, nil
}

// cut gives a node's two children by a split.
func (n *node) cut(s candidate) [2]*node {
	var out [2]*node
	for side := range out {
		out[side] = &node{bound: n.bound, boxes: slices.Clone(n.boxes)}
	}
	out[0].boxes[s.unit].Days(s.by)[1] = s.at
	out[1].boxes[s.unit].Days(s.by)[0] = s.at + 1
	return out
}

// nodes are open nodes, the least bound first.
type nodes []*node

func (h nodes) Len() int           { return len(h) }
func (h nodes) Less(i, j int) bool { return h[i].bound < h[j].bound }
func (h nodes) Swap(i, j int)      { h[i], h[j] = h[j], h[i] }
func (h *nodes) Push(x any)        { *h = append(*h, x.(*node)) }
func (h *nodes) Pop() any {
	last := len(*h) - 1
	n := (*h)[last]
	*h = (*h)[:last]
	return n
}

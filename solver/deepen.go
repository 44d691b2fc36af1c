package solver

import (
	"context"
	"sync"

	"primaprova/model"
)

// trade is what a dive weighs a minute of body at, in days of spacing. Which
// weight leads furthest differs from season to season, so several are tried,
// two side by side.
var trades = [][2]float64{{1, 4}, {2, 1}}

// deepen takes down the last wish, chunk by chunk: a linear program over the
// schedules of a chunk's passages, in the frames as they stand, weighs body
// against spacing over all of them at once; a dive makes whole schedules of it,
// and moves bring what that cost in body and the wishes before back under what
// was reached. The better of two such tries is where the next two begin.
func (s *search) deepen(ctx context.Context) error {
	order := s.p.byRehearsal()
	chunks := max(1, (len(order)+chunkSize/2)/chunkSize)
	for n := range len(trades) * chunks {
		pair, c := trades[n/chunks], n%chunks
		list := order[c*len(order)/chunks : (c+1)*len(order)/chunks]
		if ctx.Err() != nil {
			return nil
		}
		if s.st.score()[model.Spacing] <= s.bound[model.Spacing] {
			return nil
		}
		s.told("dive", (4.5+float64(n)/float64(len(trades)*chunks))/6)
		var tries [len(pair)]*state
		var errs [len(pair)]error
		var wg sync.WaitGroup
		for i, weight := range pair {
			wg.Go(func() { tries[i], errs[i] = s.try(ctx, list, weight, uint64(s.o.Seed+2*n+i+1)) })
		}
		wg.Wait()
		limit := s.st.score()
		for i, t := range tries {
			if errs[i] != nil {
				if !ended(ctx, errs[i]) {
					return errs[i]
				}
				continue
			}
			if now := t.score(); limit.allows(now, model.Spacing) && now.lessFrom(s.st.score(), model.Spacing) {
				s.st = t
			}
		}
	}
	return s.windows(ctx)
}

// windowSize is how many passages a window frees, windowWork how many
// iterations its integer program gets.
const (
	windowSize = 40
	windowWork = 3000
)

// windows goes through the season, by first rehearsal, and solves for the
// last wish exactly, as far as the work goes, what a window's passages leave to
// gain from each other.
func (s *search) windows(ctx context.Context) error {
	order := s.p.byRehearsal()
	pr := newPricer(s.p, 2)
	total := s.scaled(2 * len(order) / windowSize)
	for n := range total {
		if ctx.Err() != nil {
			break
		}
		// Twice through, each time cut elsewhere.
		first := n * windowSize % len(order)
		s.told("windows", (5.5+0.5*float64(n)/float64(total))/6)
		w := &window{s.o.Engine, pr, model.Spacing, s.st.score(), 12, windowWork}
		if _, err := w.better(ctx, s.st, order[first:min(first+windowSize, len(order))]); err != nil {
			if ended(ctx, err) {
				continue
			}
			return err
		}
	}
	return nil
}

// chunkSize is about how many passages one dive places, so that its linear
// programs stay small however long the season is.
const chunkSize = 700

// byRehearsal lists the passages by their part's first rehearsal.
func (p *problem) byRehearsal() []int {
	var out []int
	for _, i := range p.byDeadline() {
		for k := p.parts[i].first; k < p.parts[i].last; k++ {
			out = append(out, k)
		}
	}
	return out
}

// try dives once from the state as it stands, with the passages listed.
func (s *search) try(ctx context.Context, list []int, trade float64, seed uint64) (*state, error) {
	limit := s.st.score()
	rest := s.st.clone()
	var units []unit
	for _, k := range list {
		rest.lift(k)
		part := s.p.passages[k].part
		units = append(units, unit{part: part, first: k, last: k + 1, frame: rest.frames[part]})
	}
	m, err := newMaster(s.o.Engine, newPricer(s.p, 1), units, rest)
	if err != nil {
		return nil, err
	}
	defer m.close()
	if err := m.addState(s.st); err != nil {
		return nil, err
	}
	if err := m.set(aim{want: [5]float64{10000, 1000, 10, trade, 1}, limits: [5]float64{inf, inf, inf, inf, inf}}); err != nil {
		return nil, err
	}
	if err := m.solve(ctx, s.scaled(30)); err != nil {
		return nil, err
	}
	if err := m.dive(ctx, rest, 0.15, 2); err != nil {
		return nil, err
	}
	im := newImprover(rest, seed)
	if len(list) < len(s.p.passages) {
		im.free = list
	}
	im.towards(ctx, model.Spacing, limit, s.scaled(400*len(list)))
	return rest, nil
}

package solver

import (
	"context"
	"sync"
)

// abreast tries things side by side and gives what came of each, in their order,
// once all are done. An error that only ends what was being tried leaves the others
// as they are; of all else the first is given.
func abreast[T, R any](ctx context.Context, things []T, try func(n int, thing T) (R, error)) ([]R, error) {
	out, errs := make([]R, len(things)), make([]error, len(things))
	var wg sync.WaitGroup
	for n, x := range things {
		wg.Go(func() { out[n], errs[n] = try(n, x) })
	}
	wg.Wait()
	for _, err := range errs {
		if err != nil && !ended(ctx, err) {
			return nil, err
		}
	}
	return out, nil
}

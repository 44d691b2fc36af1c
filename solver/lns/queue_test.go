package lns

import (
	"context"
	"errors"
	"slices"
	"testing"

	"primaprova/solver/colgen"
)

// The later things are done first; they are kept in the order in which they were begun
// all the same, and only as many as need be.
func TestQueueKeepsInOrder(t *testing.T) {
	var kept []int
	q := queue[int]{ctx: context.Background(), keep: func(n int) { kept = append(kept, n) }}
	after := make([]chan bool, 5)
	for n := range after {
		after[n] = make(chan bool)
	}
	close(after[4])
	for n := range 4 {
		q.begin(func() (int, error) {
			<-after[n+1]
			close(after[n])
			return n, nil
		})
	}
	q.leave(4)
	if len(kept) > 0 {
		t.Errorf("%v were kept before there were too many", kept)
	}
	q.leave(1)
	if !slices.Equal(kept, []int{0, 1, 2}) {
		t.Errorf("but for one, %v were kept", kept)
	}
	if q.leave(0); !slices.Equal(kept, []int{0, 1, 2, 3}) || q.err != nil {
		t.Errorf("in the end %v were kept, %v", kept, q.err)
	}
}

// What only ends a thing is no error of the whole; what comes of a thing that fails is
// told all the same.
func TestQueueKeepsTheFirstError(t *testing.T) {
	kept, first := 0, errors.New("first")
	q := queue[int]{ctx: context.Background(), keep: func(n int) { kept += n }}
	for n, err := range []error{&colgen.StuckError{}, first, errors.New("second")} {
		q.begin(func() (int, error) { return 1 << n, err })
	}
	if q.leave(0); q.err != first || kept != 7 {
		t.Errorf("%v, kept %b", q.err, kept)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	q = queue[int]{ctx: ctx, keep: func(int) {}}
	q.begin(func() (int, error) { return 0, ctx.Err() })
	if q.leave(0); q.err != nil {
		t.Errorf("stopped, and %v", q.err)
	}
}

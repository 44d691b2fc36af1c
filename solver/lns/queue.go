package lns

import (
	"context"

	"primaprova/solver/colgen"
)

// queue is of things that are tried side by side. What came of each is kept in the
// order in which they were begun, and when whoever holds the queue says so: thus no
// result depends on which was done first.
type queue[R any] struct {
	ctx   context.Context
	keep  func(R)           // takes what came of a thing, an error or not
	begun []chan outcome[R] // and not kept yet, in order
	err   error             // the first, but for those that only ended what was being tried
}

// outcome is what came of one thing.
type outcome[R any] struct {
	result R
	err    error
}

// begin begins to try a thing.
func (q *queue[R]) begin(try func() (R, error)) {
	c := make(chan outcome[R], 1)
	q.begun = append(q.begun, c)
	go func() {
		r, err := try()
		c <- outcome[R]{r, err}
	}()
}

// leave waits for the first things and keeps them, until no more than so many are
// begun and not kept.
func (q *queue[R]) leave(n int) {
	for len(q.begun) > n {
		first := <-q.begun[0]
		q.begun = q.begun[1:]
		if q.err == nil && first.err != nil && !colgen.Ended(q.ctx, first.err) {
			q.err = first.err
		}
		q.keep(first.result)
	}
}

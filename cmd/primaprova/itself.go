package main

import (
	"context"
	"os"
	"os/exec"
)

// itself gives a process of this very program, to be begun. The context kills it.
func itself(ctx context.Context, args ...string) (*exec.Cmd, error) {
	self, err := os.Executable()
	if err != nil {
		return nil, err
	}
	c := exec.CommandContext(ctx, self, args...)
	c.Args[0] = os.Args[0] // links and tests go by the name it was called by
	return c, nil
}

//go:build !linux

package main

import "os"

// separable: elsewhere a process can't be had to end with the one that waits for it.
const separable = false

func supervise(args []string) int { return run(args, os.Stdin, os.Stdout, os.Stderr) }

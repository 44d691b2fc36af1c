//go:build !linux

package main

// breakDown breaks nothing where planning has no process of its own.
func breakDown() {}

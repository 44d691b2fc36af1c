//go:build !windows

package main

import "os"

// sequences tells whether a terminal understands the sequences that set colours and lines.
func sequences(*os.File) bool { return true }

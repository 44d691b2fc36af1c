//go:build !unix

package main

import "os"

// residentPeak is not known here.
func residentPeak(*os.ProcessState) float64 { return 0 }

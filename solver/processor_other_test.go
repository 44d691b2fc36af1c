//go:build !unix

package solver

func processor() float64 { return 0 }

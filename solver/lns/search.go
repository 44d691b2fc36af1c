// Package lns betters plans a stretch at a time: frames are searched, perturbed and recombined while
// passages are fractional; a dive makes them whole; then sub-MIPs fix all but a neighbourhood and
// optimise that. It proves nothing.
package lns

import (
	"primaprova/model"
	"primaprova/solver/instance"
	"primaprova/solver/run"
)

// Search are what a plan is bettered by, a stretch of it at a time.
type Search struct {
	P   *instance.Instance
	O   *run.Options
	Met func(goal model.Wish, now instance.Score) bool // whether a plan that costs so much can't be bettered in a wish
}

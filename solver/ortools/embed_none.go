//go:build !engines || !((linux && (amd64 || arm64)) || (darwin && (amd64 || arm64)) || (windows && amd64))

package ortools

import "io/fs"

// embedded holds the bundles of a program built with the tag engines: not this one.
var embedded fs.FS
